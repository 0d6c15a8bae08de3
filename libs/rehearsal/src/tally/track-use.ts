import type { Effect, Element, Layout } from '@blockbell/railway';
import type { SimulatedLayout } from '@blockbell/simulation';

/** Which of several things were used, and the names of those that weren't. */
export interface Use {
  readonly used: number;
  readonly of: number;
  readonly unused: readonly string[];
}

/** Notes which turnouts are thrown and which blocks trains come into. */
export class TrackUse {
  readonly #visited: Set<number>;
  readonly #thrown = new Set<number>();
  readonly #layout: Layout;
  /** By element: the position its drive last had or was sent to. */
  readonly #positions: (string | null)[];

  constructor(layout: Layout, truth: SimulatedLayout['truth'], headBlocks: readonly number[]) {
    this.#layout = layout;
    this.#positions = layout.elements.map(({ index }) => truth.drive(index)?.position ?? null);
    this.#visited = new Set(headBlocks);
  }

  visit(block: number): void {
    this.#visited.add(block);
  }

  carryOut(effect: Effect): void {
    if (effect.kind !== 'device' || effect.command.kind !== 'set-drive') return;
    const { element, position } = effect.command;
    if (this.#positions[element] !== position) this.#thrown.add(element);
    this.#positions[element] = position;
  }

  /** Turnouts, three-ways and slips: everything with points that a drive moves. */
  turnouts(): Use {
    const driven = this.#layout.elements.filter(hasPoints);
    return use(
      driven,
      ({ index }) => this.#thrown.has(index),
      ({ id }) => id,
    );
  }

  /** Tracks of staging yards. */
  yardTracks(): Use {
    const tracks = this.#layout.stations
      .filter(({ file }) => file.kind === 'staging-yard')
      .flatMap(({ file, tracks: all }) =>
        all.map(({ name, blocks }) => ({ name: `${file.name} ${name}`, blocks })),
      );
    return use(
      tracks,
      ({ blocks }) => blocks.some((block) => this.#visited.has(block)),
      ({ name }) => name,
    );
  }
}

const hasPoints = ({ drive, kind }: Element): boolean => drive !== null && kind !== 'polarity';

/** Of several things those that were used, and the names of the others. */
export function use<T>(
  things: readonly T[],
  isUsed: (thing: T) => boolean,
  name: (thing: T) => string,
): Use {
  const unused = things.filter((thing) => !isUsed(thing)).map(name);
  return { used: things.length - unused.length, of: things.length, unused };
}
