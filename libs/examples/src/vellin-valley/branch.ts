import type { TrackArea, TrackBuilder } from '@blockbell/simulation';
import { bothWays, type Areas } from './wiring.js';

const LINE = 244;

/** The single-track branch: round the hill behind Ostraven, a halt where trains cross, and Dunmarrow. */
export function addBranch(track: TrackBuilder, { branch }: Areas): void {
  const line = branch.with({ detector: 'current-sensor' });
  line
    .block('R1', {
      from: [840, 172],
      to: [840, LINE],
      via: [
        [876, 172],
        [900, 196],
        [900, 220],
        [876, LINE],
      ],
      pieces: bothWays(2200),
      gradient: 15,
    })
    .block('R2', { from: [840, LINE], to: [760, LINE], pieces: bothWays(1500), gradient: 20 })
    .block('R3', { from: [760, LINE], to: [680, LINE], pieces: bothWays(1500) })
    .turnout('HE1', { stem: [680, LINE], straight: [668, LINE], diverging: [668, 256] })
    .turnout('HW1', { stem: [512, LINE], straight: [524, LINE], diverging: [524, 256] })
    .block('R4', { from: [512, LINE], to: [440, LINE], pieces: bothWays(1500) })
    .block('R5', { from: [440, LINE], to: [368, LINE], pieces: bothWays(1600), gradient: 10 })
    .block('R6', { from: [368, LINE], to: [296, LINE], pieces: bothWays(1500) });
  branch.block('H1', { from: [668, LINE], to: [524, LINE], pieces: bothWays(1900) }).block('H2', {
    from: [668, 256],
    to: [524, 256],
    via: [
      [656, 268],
      [536, 268],
    ],
    pieces: bothWays(1900),
  });
  addDunmarrow(branch, line);
  track
    .station('pellow', 'Pellow Halt', 'station', 22, [
      { block: 'H1', name: '1', platform: true },
      { block: 'H2', name: '2', platform: true },
    ])
    .station('dunmarrow', 'Dunmarrow', 'station', 26, [
      { block: 'E1', name: '1', platform: true },
      { block: 'E2', name: '2', platform: true },
      { block: 'E3', name: 'Goods', platform: false },
    ]);
}

function addDunmarrow(branch: TrackArea, line: TrackArea): void {
  // Old point motors here report nothing: their position is presumed once their time is up.
  line
    .with({ feedback: false })
    .turnout('EE1', {
      stem: [296, LINE],
      straight: [284, LINE],
      diverging: [272, 268],
      section: 'EE.throat',
    })
    .turnout('EE2', {
      stem: [272, 268],
      straight: [260, 268],
      diverging: [260, 280],
      section: 'EE.throat',
    });
  branch
    .block('E1', { from: [284, LINE], to: [100, LINE], pieces: bothWays(1800) })
    .bufferStop('ZE1', [100, LINE])
    .block('E2', { from: [260, 268], to: [100, 268], pieces: bothWays(1800) })
    .bufferStop('ZE2', [100, 268])
    .block('E3', { from: [260, 280], to: [120, 292], via: [[248, 292]], pieces: bothWays(1800) })
    .bufferStop('ZE3', [120, 292]);
}
