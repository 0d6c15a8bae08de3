import { modelSpeed } from '../scale-speed.js';
import { mm } from '../units.js';
import type { KilometresPerHour, Millimetres, MillimetresPerSecond } from '../units.js';
import type { ElementFile, ElementKind } from './layout-file.js';
import type { Leg } from './layout.js';

/** The ports of each kind of element. Crossings and slips: `a` and `b` on one side, `c` and `d` on the other. */
export const PORTS: Readonly<Record<ElementKind, readonly string[]>> = {
  block: ['a', 'b'],
  turnout: ['stem', 'straight', 'diverging'],
  'three-way': ['stem', 'left', 'straight', 'right'],
  crossing: ['a', 'b', 'c', 'd'],
  'single-slip': ['a', 'b', 'c', 'd'],
  'double-slip': ['a', 'b', 'c', 'd'],
  'buffer-stop': ['a'],
};

/** The positions a drive of this kind of element can take; empty where nothing is driven. */
export const POSITIONS: Readonly<Record<ElementKind, readonly string[]>> = {
  block: [],
  turnout: ['straight', 'diverging'],
  'three-way': ['left', 'straight', 'right'],
  crossing: [],
  'single-slip': ['cross', 'slip'],
  'double-slip': ['cross', 'slip'],
  'buffer-stop': [],
};

/** The length of a block: the sum of its detected lengths. */
export function blockLength(file: Extract<ElementFile, { kind: 'block' }>): Millimetres {
  let length = 0;
  for (const part of file.detection) length += part.length;
  return mm(length);
}

/** How far beyond a port a vehicle still fouls another way of the element; 0 for stems, blocks and buffer stops. */
export function foulingAtPort(file: ElementFile, port: string): Millimetres {
  switch (file.kind) {
    case 'turnout':
      return port === 'straight' || port === 'diverging' ? file.fouling[port] : mm(0);
    case 'three-way':
      return port === 'left' || port === 'straight' || port === 'right'
        ? file.fouling[port]
        : mm(0);
    case 'crossing':
    case 'single-slip':
    case 'double-slip':
      return file.fouling;
    case 'block':
    case 'buffer-stop':
      return mm(0);
  }
}

/** The ways through an element, each once. A buffer stop has none. */
export function legsOf(file: ElementFile, scaleRatio: number): readonly Leg[] {
  const limit = (speed: KilometresPerHour | undefined): MillimetresPerSecond | null =>
    speed === undefined ? null : modelSpeed(speed, scaleRatio);
  const leg = (
    from: string,
    to: string,
    position: string | null,
    length: Millimetres,
    speedLimit: MillimetresPerSecond | null,
  ): Leg => ({
    from,
    to,
    position,
    length,
    foulingBeyondTo: foulingAtPort(file, to),
    foulingBeyondFrom: foulingAtPort(file, from),
    speedLimit,
  });

  switch (file.kind) {
    case 'block':
      return [leg('a', 'b', null, blockLength(file), limit(file.speedLimit))];
    case 'turnout':
      return [
        leg('stem', 'straight', 'straight', file.lengths.straight, null),
        leg('stem', 'diverging', 'diverging', file.lengths.diverging, limit(file.divergingLimit)),
      ];
    case 'three-way':
      return [
        leg('stem', 'left', 'left', file.lengths.left, limit(file.divergingLimit)),
        leg('stem', 'straight', 'straight', file.lengths.straight, null),
        leg('stem', 'right', 'right', file.lengths.right, limit(file.divergingLimit)),
      ];
    case 'crossing':
      return [leg('a', 'c', null, file.length, null), leg('b', 'd', null, file.length, null)];
    case 'single-slip':
    case 'double-slip': {
      const crossed = [
        leg('a', 'c', 'cross', file.length, null),
        leg('b', 'd', 'cross', file.length, null),
        leg('a', 'd', 'slip', file.length, limit(file.slipLimit)),
      ];
      return file.kind === 'single-slip'
        ? crossed
        : [...crossed, leg('b', 'c', 'slip', file.length, limit(file.slipLimit))];
    }
    case 'buffer-stop':
      return [];
  }
}

/** The same way the other way round. */
export const reverseLeg = (leg: Leg): Leg => ({
  ...leg,
  from: leg.to,
  to: leg.from,
  foulingBeyondTo: leg.foulingBeyondFrom,
  foulingBeyondFrom: leg.foulingBeyondTo,
});

/** The ways that begin at a port, each in the direction away from it. */
export function legsFrom(legs: readonly Leg[], port: string): readonly Leg[] {
  const found: Leg[] = [];
  for (const leg of legs) {
    if (leg.from === port) found.push(leg);
    else if (leg.to === port) found.push(reverseLeg(leg));
  }
  return found;
}
