import type { LayoutFile } from '@blockbell/railway';
import { TrackBuilder } from '@blockbell/simulation';
import { CURRENT_SENSOR, READER } from '@blockbell/simulation';

/** A single line between two dead ends, with a passing loop half-way. */
export function passingLoopLayout(): LayoutFile {
  const track = new TrackBuilder({
    id: 'passing-loop',
    name: 'Pennick passing loop',
    scaleRatio: 87,
  })
    .level('open', 'Open level', false)
    .district('all', 'Whole layout')
    .bus('main', 'Main feedback bus', 'poll', 1000)
    .detectorType(READER)
    .detectorType(CURRENT_SENSOR);
  const wiring = { level: 'open', district: 'all', bus: 'main', divergingLimit: 45 };
  const station = track.area({ ...wiring, detector: 'reader' });
  const line = track.area({ ...wiring, detector: 'current-sensor' });

  station
    .bufferStop('Z1', [20, 100])
    .block('W1', { from: [20, 100], to: [140, 100], pieces: [300, 1000, 300], name: 'Lowmarsh' });
  line
    .block('L1', { from: [140, 100], to: [240, 100], pieces: [300, 800, 300] })
    .block('L2', { from: [240, 100], to: [340, 100], pieces: [300, 800, 300] })
    .turnout('T1', { stem: [340, 100], straight: [352, 100], diverging: [352, 112] });
  station.block('P1', { from: [352, 100], to: [508, 100], pieces: [300, 1100, 300] }).block('P2', {
    from: [352, 112],
    to: [508, 112],
    via: [
      [364, 124],
      [496, 124],
    ],
    pieces: [300, 1150, 300],
  });
  line
    .turnout('T2', { stem: [520, 100], straight: [508, 100], diverging: [508, 112] })
    .block('L3', { from: [520, 100], to: [620, 100], pieces: [300, 800, 300] })
    .block('L4', { from: [620, 100], to: [720, 100], pieces: [300, 800, 300] });
  station
    .block('E1', { from: [720, 100], to: [840, 100], pieces: [300, 1000, 300], name: 'Highmarsh' })
    .bufferStop('Z2', [840, 100]);

  return track
    .station('lowmarsh', 'Lowmarsh', 'station', 0, [{ block: 'W1', name: '1', platform: true }])
    .station('pennick', 'Pennick', 'station', 4, [
      { block: 'P1', name: '1', platform: true },
      { block: 'P2', name: '2', platform: true },
    ])
    .station('highmarsh', 'Highmarsh', 'station', 8, [{ block: 'E1', name: '1', platform: true }])
    .build();
}
