import { mm } from '@blockbell/railway';
import type { Scenario } from '../scenario.js';
import { block, buffer, reversing, smallRailway, station, turnout } from './parts.js';

/** Railways on which trains stand, turn round or sort themselves. */

/** L2 – L1 – T ═ P1 / P2: P arrives, Q leaves, P goes back with its rear leading. */
export function terminus(): Scenario {
  return smallRailway({
    name: 'terminus',
    about: 'A terminus of two tracks: one train arrives, the other leaves, the first turns round.',
    trains: [
      {
        id: 'P',
        answers: false,
        canReverse: true,
        at: 'L1>b',
        services: [
          ['Line', 'Town/P1'],
          ['Town/P1', 'Line'],
        ],
      },
      { id: 'Q', answers: false, at: 'P2>a', services: [['Town/P2', 'Out']] },
    ],
    elements: [
      ...['LB', 'B1', 'B2'].map(buffer),
      block('L2', [600]),
      block('L1', [150, 450, 150]),
      turnout('T'),
      block('P1', [150, 450]),
      block('P2', [150, 450]),
    ],
    joins: [
      'LB.a L2.a',
      'L2.b L1.a',
      'L1.b T.stem',
      'T.straight P1.a',
      'T.diverging P2.a',
      'P1.b B1.a',
      'P2.b B2.a',
    ],
    stations: [station('Out', 0, 'L2'), station('Line', 1, 'L1'), station('Town', 2, 'P1', 'P2')],
  });
}

/** Y1, Y2, Y3 – T1, T2 – L1 – L2 – L3: three trains leave a yard, the first the furthest. */
export function yardThroat(): Scenario {
  return smallRailway({
    name: 'yard-throat',
    about: 'Three trains leave a yard of three tracks over one throat, one behind the other.',
    trains: [
      { id: 'P', answers: false, at: 'Y1>b', services: [['Yard/Y1', 'Third']] },
      { id: 'Q', answers: false, at: 'Y2>b', services: [['Yard/Y2', 'Second']] },
      { id: 'R', answers: false, at: 'Y3>b', services: [['Yard/Y3', 'First']] },
    ],
    elements: [
      ...['B1', 'B2', 'B3', 'LB'].map(buffer),
      ...['Y1', 'Y2', 'Y3'].map((id) => block(id, [600])),
      turnout('T1'),
      turnout('T2'),
      block('L1', [150, 450]),
      block('L2', [600]),
      block('L3', [600]),
    ],
    joins: [
      'B1.a Y1.a',
      'B2.a Y2.a',
      'B3.a Y3.a',
      'Y1.b T1.straight',
      'Y2.b T1.diverging',
      'T1.stem T2.straight',
      'Y3.b T2.diverging',
      'T2.stem L1.a',
      'L1.b L2.a',
      'L2.b L3.a',
      'L3.b LB.a',
    ],
    stations: [
      station('Yard', 0, 'Y1', 'Y2', 'Y3'),
      station('First', 1, 'L1'),
      station('Second', 2, 'L2'),
      station('Third', 3, 'L3'),
    ],
  });
}

/** A1 / A2 ═ T0 – S – T with both its legs in L: P goes round the loop and home, then Q goes into it. */
export function reversingLoop(): Scenario {
  return smallRailway({
    name: 'reversing-loop',
    about: 'A loop in which trains turn round, its polarity switched under way.',
    trains: [
      {
        id: 'P',
        answers: false,
        at: 'A1>b',
        services: [
          ['Town/A1', 'Loop'],
          ['Loop', 'Town/A1'],
        ],
      },
      { id: 'Q', answers: false, at: 'A2>b', services: [['Town/A2', 'Loop']] },
    ],
    elements: [
      ...['B1', 'B2'].map(buffer),
      block('A1', [450, 150]),
      block('A2', [450, 150]),
      turnout('T0'),
      block('S', [150, 450, 150]),
      turnout('T'),
      block('L', [150, 600, 150]),
    ],
    joins: [
      'B1.a A1.a',
      'B2.a A2.a',
      'A1.b T0.straight',
      'A2.b T0.diverging',
      'T0.stem S.a',
      'S.b T.stem',
      'T.straight L.a',
      'T.diverging L.b',
    ],
    stations: [station('Town', 0, 'A1', 'A2'), station('Loop', 1, 'L')],
    reversingSections: [
      reversing(
        'R',
        ['L'],
        [
          { port: 'L.a', polarity: 'normal' },
          { port: 'L.b', polarity: 'reversed' },
        ],
      ),
    ],
  });
}

/** W1 – TA – P1 and W2 – TB – P2 with a crossover from W1 to P2: P crosses over, then Q leaves to where P came from. */
export function twoPlatforms(): Scenario {
  return smallRailway({
    name: 'two-platforms',
    about: 'A station of two platforms: one train crosses over into it, the other leaves.',
    trains: [
      { id: 'P', answers: false, at: 'W1>b', services: [['Line/W1', 'Town/P2']] },
      { id: 'Q', answers: false, at: 'P1>a', services: [['Town/P1', 'Line/W1']] },
    ],
    elements: [
      ...['X1', 'X2', 'B1', 'B2'].map(buffer),
      block('W1', [450, 150]),
      block('W2', [600]),
      turnout('TA'),
      turnout('TB'),
      block('P1', [150, 450]),
      block('P2', [150, 450]),
    ],
    joins: [
      'X1.a W1.a',
      'X2.a W2.a',
      'W1.b TA.stem',
      'TA.straight P1.a',
      'W2.b TB.straight',
      'TB.stem P2.a',
      'TA.diverging TB.diverging',
      'P1.b B1.a',
      'P2.b B2.a',
    ],
    stations: [station('Line', 0, 'W1', 'W2'), station('Town', 1, 'P1', 'P2')],
  });
}

/**
 * W – PA – PB – E: P and Q come from both sides to the two halves of one platform track, the second of them called on. The last
 * boundary before each stop mark lies where a train that was called on begins to creep: that tells the states before and after
 * apart, whose keys would be one.
 */
export function sharedPlatform(): Scenario {
  const half = (id: string) =>
    block(id, [205, 340, 205], { stopMarks: { a: mm(160), b: mm(160) } });
  const town = station('Town', 1, 'PA');
  return smallRailway({
    name: 'shared-platform',
    about: 'Two trains come from both sides to one platform track, the second called on.',
    trains: [
      { id: 'P', answers: false, at: 'W>b', services: [['West', 'Town']] },
      { id: 'Q', answers: true, at: 'E>a', services: [['East', 'Town']] },
    ],
    elements: [
      ...['BW', 'BE'].map(buffer),
      block('W', [450, 150]),
      half('PA'),
      half('PB'),
      block('E', [150, 450]),
    ],
    joins: ['BW.a W.a', 'W.b PA.a', 'PA.b PB.a', 'PB.b E.a', 'E.b BE.a'],
    stations: [
      station('West', 0, 'W'),
      {
        ...town,
        tracks: town.tracks.map((track) => ({
          ...track,
          blocks: ['PA', 'PB'].map((id) => block(id, []).id),
          callOn: true,
        })),
      },
      station('East', 2, 'E'),
    ],
  });
}
