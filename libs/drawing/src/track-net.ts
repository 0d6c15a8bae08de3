import type { ElementKind, LayoutFile } from '@blockbell/railway';

/** The ports of each kind by the side on which they lie, the first side's first. */
export const SIDES: Readonly<Record<ElementKind, readonly [readonly string[], readonly string[]]>> =
  {
    block: [['a'], ['b']],
    turnout: [['stem'], ['straight', 'diverging']],
    'three-way': [['stem'], ['left', 'straight', 'right']],
    crossing: [
      ['a', 'b'],
      ['c', 'd'],
    ],
    'single-slip': [
      ['a', 'b'],
      ['c', 'd'],
    ],
    'double-slip': [
      ['a', 'b'],
      ['c', 'd'],
    ],
    'buffer-stop': [['a'], []],
  };

/**
 * Ports that go on in the same row of the drawing: along a block, over the straight leg, and beside one another
 * past a crossing, whose tracks change rows.
 */
export const ROWS: Readonly<Record<ElementKind, readonly (readonly [string, string])[]>> = {
  block: [['a', 'b']],
  turnout: [['stem', 'straight']],
  'three-way': [['stem', 'straight']],
  crossing: [
    ['a', 'd'],
    ['b', 'c'],
  ],
  'single-slip': [
    ['a', 'd'],
    ['b', 'c'],
  ],
  'double-slip': [
    ['a', 'd'],
    ['b', 'c'],
  ],
  'buffer-stop': [],
};

/** A port by its number, the element's number in the file, and the port joined to it (−1: none). */
export interface NetPort {
  readonly element: number;
  readonly name: string;
  /** 0 for the first side of its element, 1 for the other. */
  readonly side: 0 | 1;
  readonly mate: number;
}

/** Elements and joins by number. */
export interface TrackNet {
  readonly file: LayoutFile;
  readonly ports: readonly NetPort[];
  /** By element: its ports by name. */
  readonly portsOf: readonly ReadonlyMap<string, number>[];
}

export function trackNet(file: LayoutFile): TrackNet {
  const ports: { element: number; name: string; side: 0 | 1; mate: number }[] = [];
  const byName = new Map<string, number>();
  const portsOf = file.elements.map(({ id, kind }, element) => {
    const own = new Map<string, number>();
    SIDES[kind].forEach((names, side) => {
      for (const name of names) {
        own.set(name, ports.length);
        byName.set(`${id}.${name}`, ports.length);
        ports.push({ element, name, side: side === 0 ? 0 : 1, mate: -1 });
      }
    });
    return own;
  });
  for (const [one, other] of file.joins) {
    const p = byName.get(one);
    const q = byName.get(other);
    if (p === undefined || q === undefined) continue;
    const [first, second] = [ports[p], ports[q]];
    if (first) first.mate = q;
    if (second) second.mate = p;
  }
  return { file, ports, portsOf };
}

/** The port of an element, which must have it. */
export function portOf({ portsOf, file }: TrackNet, element: number, name: string): number {
  const port = portsOf[element]?.get(name);
  if (port === undefined)
    throw new Error(`${file.elements[element]?.id ?? element} has no port ${name}`);
  return port;
}

/** The element at the other end of a port's join, or null. */
export function beyond({ ports }: TrackNet, port: number): number | null {
  const mate = ports[port]?.mate ?? -1;
  return ports[mate]?.element ?? null;
}
