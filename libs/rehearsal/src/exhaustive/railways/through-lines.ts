import type { Scenario } from '../scenario.js';
import { block, buffer, smallRailway, station, turnout } from './parts.js';
import { mm } from '@blockbell/railway';

/** Railways on which trains meet, follow one another or run beside one another. */

/** W – TW ═ M / S ═ TE – E: P and G change places. */
export function passingLoop(): Scenario {
  return smallRailway({
    name: 'passing-loop',
    about: 'Two trains on a single line meet in a loop and change places.',
    trains: [
      { id: 'P', answers: false, at: 'W>b', services: [['West', 'East']] },
      { id: 'G', answers: false, at: 'E>a', services: [['East', 'West']] },
    ],
    elements: [
      buffer('WB'),
      block('W', [450, 150]),
      turnout('TW'),
      block('M', [150, 450, 150]),
      block('S', [150, 450, 150]),
      turnout('TE'),
      block('E', [150, 450]),
      buffer('EB'),
    ],
    joins: [
      'WB.a W.a',
      'W.b TW.stem',
      'TW.straight M.a',
      'TW.diverging S.a',
      'M.b TE.straight',
      'S.b TE.diverging',
      'TE.stem E.a',
      'E.b EB.a',
    ],
    stations: [station('West', 0, 'W'), station('Loop', 1, 'M', 'S'), station('East', 2, 'E')],
  });
}

/** A and B join over T into C – D: P from A to D, Q from B to C. */
export function junction(): Scenario {
  return smallRailway({
    name: 'junction',
    about: 'Two lines join; both trains go the same way on, one behind the other.',
    trains: [
      { id: 'P', answers: false, at: 'A>b', services: [['North', 'Far']] },
      { id: 'Q', answers: false, at: 'B>b', services: [['South', 'Near']] },
    ],
    elements: [
      buffer('AB'),
      buffer('BB'),
      block('A', [600]),
      block('B', [600]),
      turnout('T'),
      block('C', [150, 450]),
      block('D', [600]),
      buffer('DB'),
    ],
    joins: [
      'AB.a A.a',
      'BB.a B.a',
      'A.b T.straight',
      'B.b T.diverging',
      'T.stem C.a',
      'C.b D.a',
      'D.b DB.a',
    ],
    stations: [
      station('North', 0, 'A'),
      station('South', 1, 'B'),
      station('Near', 2, 'C'),
      station('Far', 3, 'D'),
    ],
  });
}

/** A1 – T1 – B1 and A2 – T2 – B2 with a crossover between: P and Q go straight, side by side. */
export function crossover(): Scenario {
  return smallRailway({
    name: 'crossover',
    about: 'Two trains run side by side past a crossover whose turnouts protect one another.',
    trains: [
      { id: 'P', answers: false, at: 'A1>b', services: [['West/A1', 'East/B1']] },
      { id: 'Q', answers: false, at: 'A2>b', services: [['West/A2', 'East/B2']] },
    ],
    elements: [
      ...['X1', 'X2', 'Y1', 'Y2'].map(buffer),
      block('A1', [600]),
      block('A2', [600]),
      turnout('T1'),
      turnout('T2'),
      block('B1', [150, 450]),
      block('B2', [150, 450]),
    ],
    joins: [
      'X1.a A1.a',
      'X2.a A2.a',
      'A1.b T1.stem',
      'T1.straight B1.a',
      'A2.b T2.straight',
      'T2.stem B2.a',
      'T1.diverging T2.diverging',
      'B1.b Y1.a',
      'B2.b Y2.a',
    ],
    stations: [station('West', 0, 'A1', 'A2'), station('East', 1, 'B1', 'B2')],
  });
}

/** A – B, and beyond B the overlap over T, which C – D also runs over. */
export function overlap(): Scenario {
  return smallRailway({
    name: 'overlap',
    about:
      'A train is let in towards a junction only with its overlap locked, which another needs.',
    trains: [
      { id: 'P', answers: false, at: 'A>b', services: [['Outer', 'Home']] },
      { id: 'Q', answers: false, at: 'C>b', services: [['Side', 'Town']] },
    ],
    elements: [
      ...['AB', 'CB', 'DB'].map(buffer),
      block('A', [600]),
      block('B', [150, 450], { overlap: { b: mm(150) } }),
      turnout('T'),
      block('C', [600]),
      block('D', [150, 450]),
    ],
    joins: [
      'AB.a A.a',
      'A.b B.a',
      'B.b T.straight',
      'CB.a C.a',
      'C.b T.diverging',
      'T.stem D.a',
      'D.b DB.a',
    ],
    stations: [
      station('Outer', 0, 'A'),
      station('Home', 1, 'B'),
      station('Side', 2, 'C'),
      station('Town', 3, 'D'),
    ],
  });
}
