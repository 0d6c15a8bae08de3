import type { TrackBuilder } from '@blockbell/simulation';
import { addDoubleTrack, DOWN, UP } from './main-line.js';
import { bothWays, type Areas } from './wiring.js';

/**
 * Selquay: three dead-end platforms for trains that reverse, and two through platforms from which the others go
 * round a balloon loop. The loop is a reversing section, one-way, with its one turnout as entry and exit.
 */
export function addSelquay(track: TrackBuilder, { east }: Areas): void {
  addDoubleTrack(east.with({ detector: 'current-sensor' }), 804, 60, [
    { down: 'D9', up: 'U3', length: 2000 },
    { down: 'D10', up: 'U2', length: 2000 },
    { down: 'D11', up: 'U1', length: 2100 },
  ]);
  addThroat({ east });
  addPlatforms({ east });
  addBalloon(track, { east });
  track.station('selquay', 'Selquay', 'station', 18, [
    { block: 'C1', name: '1', platform: true },
    { block: 'C2', name: '2', platform: true },
    { block: 'C3', name: '3', platform: true },
    { block: 'C4', name: '4', platform: true },
    { block: 'C5', name: '5', platform: true },
  ]);
}

/** Two crossovers between the lines, then a ladder to the north and one turnout to the south. */
function addThroat({ east }: Pick<Areas, 'east'>): void {
  east
    .with({ detector: 'current-sensor' })
    .turnout('CW1', { stem: [984, DOWN], straight: [1008, DOWN], diverging: [996, 136] })
    .turnout('CW2', { stem: [1008, UP], straight: [984, UP], diverging: [996, 136] })
    .turnout('CW3', { stem: [1008, UP], straight: [1032, UP], diverging: [1020, 136] })
    .turnout('CW4', { stem: [1032, DOWN], straight: [1008, DOWN], diverging: [1020, 136] })
    .turnout('CW5', { stem: [1032, DOWN], straight: [1044, DOWN], diverging: [1044, 160] })
    .turnout('CW6', {
      stem: [1032, UP],
      straight: [1044, UP],
      diverging: [1056, 100],
      section: 'CW.north',
    })
    .turnout('CW7', {
      stem: [1056, 100],
      straight: [1068, 100],
      diverging: [1068, 88],
      section: 'CW.north',
    });
}

function addPlatforms({ east }: Pick<Areas, 'east'>): void {
  east
    .block('C1', { from: [1068, 88], to: [1216, 76], via: [[1080, 76]], pieces: bothWays(1900) })
    .bufferStop('ZC1', [1216, 76])
    .block('C2', { from: [1068, 100], to: [1216, 100], pieces: bothWays(2000) })
    .bufferStop('ZC2', [1216, 100])
    .block('C3', {
      from: [1044, UP],
      to: [1232, 136],
      via: [[1220, UP]],
      pieces: bothWays(2400),
      directions: 'b-to-a',
    })
    .block('C4', {
      from: [1044, DOWN],
      to: [1232, DOWN],
      pieces: bothWays(2400),
      directions: 'a-to-b',
    })
    .block('C5', { from: [1044, 160], to: [1216, 172], via: [[1056, 172]], pieces: bothWays(1900) })
    .bufferStop('ZC5', [1216, 172]);
}

function addBalloon(track: TrackBuilder, { east }: Pick<Areas, 'east'>): void {
  east
    .with({ detector: 'current-sensor' })
    .turnout('CE1', { stem: [1244, DOWN], straight: [1232, DOWN], diverging: [1232, 136] })
    .turnout('CE2', { stem: [1244, DOWN], straight: [1256, 160], diverging: [1256, 136] });
  east.with({ speedLimit: 55 }).block('L1', {
    from: [1256, 160],
    to: [1256, 136],
    via: [
      [1280, 184],
      [1316, 184],
      [1340, 160],
      [1340, 136],
      [1316, 112],
      [1280, 112],
    ],
    pieces: bothWays(3200),
    directions: 'a-to-b',
  });
  track.reversingSection('PL', 'Balloon loop', ['L1'], { normal: 'L1.a', reversed: 'L1.b' });
}
