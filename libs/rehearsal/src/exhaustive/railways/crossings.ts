import type { Scenario } from '../scenario.js';
import { block, buffer, crossing, doubleSlip, smallRailway, station } from './parts.js';

/** Railways on which ways cross on the level. */

/** A – K – C and B – K – D: P and Q cross. */
export function levelCrossing(): Scenario {
  return smallRailway({
    name: 'crossing',
    about: 'Two lines cross on the level, a train on each.',
    trains: [
      { id: 'P', answers: true, at: 'A>b', services: [['West', 'East']] },
      { id: 'Q', answers: true, at: 'B>b', services: [['North', 'South']] },
    ],
    elements: [
      ...['AB', 'BB', 'CB', 'DB'].map(buffer),
      block('A', [600]),
      block('B', [600]),
      crossing('K'),
      block('C', [150, 450]),
      block('D', [150, 450]),
    ],
    joins: [
      'AB.a A.a',
      'BB.a B.a',
      'A.b K.a',
      'B.b K.b',
      'K.c C.a',
      'K.d D.a',
      'C.b CB.a',
      'D.b DB.a',
    ],
    stations: [
      station('West', 0, 'A'),
      station('North', 1, 'B'),
      station('East', 2, 'C'),
      station('South', 3, 'D'),
    ],
  });
}

/** A double slip between A, B and C, D: P curves from A to D, then Q crosses from C to A. */
export function slip(): Scenario {
  return smallRailway({
    name: 'slip',
    about:
      'A double slip: one train curves over it, then another crosses to where the first stood.',
    trains: [
      { id: 'P', answers: false, at: 'A>b', services: [['West/A', 'East/D']] },
      { id: 'Q', answers: true, at: 'C>a', services: [['East/C', 'West/A']] },
    ],
    elements: [
      ...['AB', 'BB', 'CB', 'DB'].map(buffer),
      block('A', [450, 150]),
      block('B', [600]),
      doubleSlip('S'),
      block('C', [600]),
      block('D', [150, 450]),
    ],
    joins: [
      'AB.a A.a',
      'BB.a B.a',
      'A.b S.a',
      'B.b S.b',
      'S.c C.a',
      'S.d D.a',
      'C.b CB.a',
      'D.b DB.a',
    ],
    stations: [station('West', 0, 'A', 'B'), station('East', 1, 'C', 'D')],
  });
}
