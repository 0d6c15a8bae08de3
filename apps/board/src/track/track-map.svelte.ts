import { blockOf } from '@blockbell/railway';
import type { Diagram } from './diagram.js';
import type { LabelField } from './label-field.js';
import { labelGround } from './label-ground.js';
import { lampSpots } from './lamp-spots.js';
import type { LampSpot } from './lamp-spots.js';
import type { NameKind, NameLabel } from './name-labels.js';
import type { Sight } from './paint-layer.js';
import { Viewport } from './viewport.svelte.js';

const FONTS: Readonly<Record<NameKind | 'train', string>> = {
  level: '600 13px system-ui, sans-serif',
  station: '650 15px system-ui, sans-serif',
  track: '400 12px system-ui, sans-serif',
  block: '400 12px system-ui, sans-serif',
  train: '650 13px system-ui, sans-serif',
};

const pencil = document.createElement('canvas').getContext('2d');

const widths = new Map<string, number>();

/** Width of a text on screen, pixels. */
export function textWidth(text: string, kind: NameKind | 'train'): number {
  if (!pencil) return text.length * 8;
  const font = FONTS[kind];
  const key = `${font} ${text}`;
  const known = widths.get(key);
  if (known !== undefined) return known;
  // Telling the font anew costs more than measuring.
  if (pencil.font !== font) pencil.font = font;
  const width = Math.ceil(pencil.measureText(text).width);
  widths.set(key, width);
  return width;
}

/** Has the browser ready its fonts: of each, the first text takes as long as hundreds that follow. */
export function readyFonts(): void {
  for (const kind of Object.keys(FONTS) as (keyof typeof FONTS)[]) textWidth('A', kind);
}

/** The drawing as it is seen: its viewport, and everything whose place depends on the scale alone. */
export class TrackMap {
  readonly viewport: Viewport;
  readonly diagram: Diagram;
  readonly lamps: readonly LampSpot[];
  /** Every signal, however large it is drawn: by the heading at whose end it stands. */
  readonly signals: readonly { readonly heading: number; readonly name: string }[];
  /** What canvases show of the drawing; another object when any of it changed. */
  readonly view: Sight = $derived.by(() => {
    const { width, height, scale, offsetX, offsetY } = this.viewport;
    return { width, height, scale, offsetX, offsetY };
  });
  readonly #placed: { readonly names: readonly NameLabel[]; readonly field: LabelField };

  /** `headings`: block ends that have a signal. */
  constructor(diagram: Diagram, headings: () => readonly number[]) {
    this.diagram = diagram;
    this.viewport = new Viewport(diagram.box);
    const names = new Map(diagram.blocks.map(({ element, name }) => [element.index, name]));
    this.signals = $derived(
      headings().flatMap((heading) => {
        const name = names.get(blockOf(heading));
        return name === undefined ? [] : [{ heading, name }];
      }),
    );
    this.lamps = $derived(lampSpots(diagram, headings(), this.viewport.scale));
    this.#placed = $derived(labelGround(diagram, this.viewport.scale, textWidth, this.lamps));
  }

  get names(): readonly NameLabel[] {
    return this.#placed.names;
  }

  /** What trains' labels must keep clear of. */
  get field(): LabelField {
    return this.#placed.field;
  }

  get scale(): number {
    return this.viewport.scale;
  }

  /** Pixels across a train's band. */
  get bandWidth(): number {
    return Math.min(13, Math.max(5, this.scale * 0.62));
  }
}
