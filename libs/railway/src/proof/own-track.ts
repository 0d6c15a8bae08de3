import type { ElementFile, LayoutFile } from '../layout/layout-file.js';

/**
 * The track as the proof reads it from the builder's file, by names and without the compiler's tables: what the
 * compiler gets wrong must not be got wrong here in the same way. Ports are written `element.port`.
 */
export interface OwnTrack {
  readonly elements: ReadonlyMap<string, OwnElement>;
  /** The port joined to a port. */
  readonly joined: ReadonlyMap<string, string>;
  /** By both ports of a joint: the reversing sections with a gap there, and the polarity each must have. */
  readonly gaps: ReadonlyMap<string, readonly OwnGap[]>;
}

export interface OwnGap {
  readonly zone: string;
  readonly polarity: string;
}

export interface OwnElement {
  readonly id: string;
  readonly kind: ElementFile['kind'];
  readonly ports: readonly string[];
  readonly ways: readonly OwnWay[];
  readonly positions: readonly string[];
  /** Ids of all sections that see any of it. */
  readonly sections: readonly string[];
  /** For a block: whether trains may leave it at that end. */
  readonly leaves: { readonly a: boolean; readonly b: boolean };
}

/** A way through an element, usable in both directions; `position` is null where nothing is driven. */
export interface OwnWay {
  readonly ends: readonly [string, string];
  readonly position: string | null;
}

const way = (one: string, other: string, position: string | null): OwnWay => ({
  ends: [one, other],
  position,
});

/** As the trade draws them: a crossing and a slip have `a` and `b` on one side, `c` opposite `a` and `d` opposite `b`. */
const WAYS: Readonly<Record<ElementFile['kind'], readonly OwnWay[]>> = {
  block: [way('a', 'b', null)],
  'buffer-stop': [],
  turnout: [way('stem', 'straight', 'straight'), way('stem', 'diverging', 'diverging')],
  'three-way': [
    way('stem', 'left', 'left'),
    way('stem', 'straight', 'straight'),
    way('stem', 'right', 'right'),
  ],
  crossing: [way('a', 'c', null), way('b', 'd', null)],
  'single-slip': [way('a', 'c', 'cross'), way('b', 'd', 'cross'), way('a', 'd', 'slip')],
  'double-slip': [
    way('a', 'c', 'cross'),
    way('b', 'd', 'cross'),
    way('a', 'd', 'slip'),
    way('b', 'c', 'slip'),
  ],
};

export function readTrack(file: LayoutFile): OwnTrack {
  const joined = new Map<string, string>();
  for (const [one, other] of file.joins) {
    joined.set(one, other);
    joined.set(other, one);
  }
  const gaps = new Map<string, OwnGap[]>();
  for (const { id, gaps: of } of file.reversingSections) {
    for (const { port, polarity } of of) {
      for (const side of [port, joined.get(port)]) {
        if (side !== undefined) gaps.set(side, [...(gaps.get(side) ?? []), { zone: id, polarity }]);
      }
    }
  }
  return {
    elements: new Map(file.elements.map((element) => [element.id, readElement(element)])),
    joined,
    gaps,
  };
}

function readElement(file: ElementFile): OwnElement {
  const ways = WAYS[file.kind];
  const positions = ways.flatMap(({ position }) => (position === null ? [] : [position]));
  const seen = file.kind === 'block' ? file.detection.map(({ section }) => section) : [];
  const section = 'section' in file ? [file.section] : [];
  const directions = file.kind === 'block' ? file.directions : 'both';
  return {
    id: file.id,
    kind: file.kind,
    ports: file.kind === 'buffer-stop' ? ['a'] : [...new Set(ways.flatMap(({ ends }) => ends))],
    ways,
    positions: [...new Set(positions)],
    sections: [...new Set([...seen, ...section].filter((each) => each !== null))],
    leaves: { a: directions !== 'a-to-b', b: directions !== 'b-to-a' },
  };
}

/** The element and the port that `element.port` names. */
export function partsOf(port: string): { readonly element: string; readonly port: string } {
  const dot = port.lastIndexOf('.');
  return { element: port.slice(0, dot), port: port.slice(dot + 1) };
}

/** Where ways lead to that enter an element by a port: the far port and the position the way needs. */
export const waysFrom = (
  { ways }: OwnElement,
  port: string,
): readonly { readonly to: string; readonly position: string | null }[] =>
  ways.flatMap(({ ends: [one, other], position }) => {
    if (one === port) return [{ to: other, position }];
    return other === port ? [{ to: one, position }] : [];
  });
