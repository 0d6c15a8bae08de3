import type { TrackBuilder } from '@blockbell/simulation';
import { bothWays, towardsA, towardsB, type Areas } from './wiring.js';

/** Lengths of the through tracks from the rearmost (1) to the one beside the arrival line (8), in mm. */
const THROUGH_TRACKS = [2400, 2450, 2500, 2600, 2600, 2500, 2450, 2400];
const DEAD_ENDS = [1900, 1800, 1700];
const SPACING = 20;
const TOP = 372;
const EXIT_X = 170;
const ENTRY_X = 1290;

/**
 * The hidden yard. Trains come down on the left, pass beneath the yard, turn in a reversing section on the right
 * and enter the eight through tracks from there, worked one way, first in, first out. Trains that reverse go into
 * three dead ends by a double slip instead, and leave over it.
 */
export function addHiddenYard(track: TrackBuilder, areas: Areas): void {
  addNeck(areas);
  addLadders(areas);
  addTurningCurve(track, areas);
  track.station('undercroft', 'Undercroft Yard', 'staging-yard', 0, [
    ...THROUGH_TRACKS.map((_, index) => ({
      block: `Y${index + 1}`,
      name: `${index + 1}`,
      platform: false,
    })),
    ...DEAD_ENDS.map((_, index) => ({
      block: `X${index + 1}`,
      name: `X${index + 1}`,
      platform: false,
    })),
  ]);
}

/** Where departures leave and arrivals come in, with the way to the dead ends. */
function addNeck({ yard, yardLine }: Areas): void {
  yardLine
    .block('D2', { from: [20, 512], to: [90, 512], pieces: towardsA(1800), directions: 'b-to-a' })
    .block('D1', { from: [90, 512], to: [160, 512], pieces: towardsA(1800), directions: 'b-to-a' })
    .turnout('NW1', { stem: [160, 512], straight: [170, 512], diverging: [170, 522] })
    .block('U10', { from: [20, 532], to: [90, 532], pieces: towardsB(1800), directions: 'a-to-b' })
    .block('U11', { from: [90, 532], to: [170, 532], pieces: towardsB(2000), directions: 'a-to-b' })
    .slip('NS1', 'double-slip', {
      a: [170, 532],
      b: [170, 522],
      c: [190, 532],
      d: [220, 572],
    })
    .threeWay('NT1', {
      stem: [220, 572],
      left: [240, 552],
      straight: [240, 572],
      right: [240, 592],
    });
  DEAD_ENDS.forEach((length, index) => {
    const y = 552 + SPACING * index;
    yard
      .block(`X${index + 1}`, { from: [240, y], to: [560, y], pieces: bothWays(length) })
      .bufferStop(`ZX${index + 1}`, [560, y]);
  });
}

/** Both ladders slant the same way, so that all through tracks are drawn equally long. */
function addLadders({ yard, yardLine }: Areas): void {
  const last = THROUGH_TRACKS.length - 1;
  for (let index = 0; index < last; index += 1) {
    const y = TOP + SPACING * (last - index);
    const x = EXIT_X + SPACING * index;
    yardLine.turnout(`NX${index + 1}`, {
      stem: [x, y],
      straight: [x + SPACING, y - SPACING],
      diverging: [x + SPACING, y],
      section: index < 4 ? 'NX.out' : 'NX.in',
    });
  }
  for (let index = 0; index < last; index += 1) {
    const y = TOP + SPACING * index;
    const x = ENTRY_X - SPACING * index;
    yardLine.turnout(`NE${index + 1}`, {
      stem: [x, y],
      straight: [x - SPACING, y + SPACING],
      diverging: [x - SPACING, y],
      section: index < 4 ? 'NE.out' : 'NE.in',
    });
  }
  THROUGH_TRACKS.forEach((length, index) => {
    const y = TOP + SPACING * index;
    // Tracks 7 and 8 have the oldest detectors: they say that something stands there, not what.
    const area = index < 6 ? yard : yard.with({ detector: 'current-sensor' });
    area.block(`Y${index + 1}`, {
      from: [EXIT_X + SPACING * Math.min(last, last - index + 1), y],
      to: [ENTRY_X - SPACING * Math.min(last, index + 1), y],
      pieces: bothWays(length),
      directions: 'b-to-a',
    });
  });
}

/** The way round to the entry ladder, long enough to hold any train between its rail gaps. */
function addTurningCurve(track: TrackBuilder, { yardLine }: Areas): void {
  yardLine
    .block('U12', {
      from: [190, 532],
      to: [600, 532],
      pieces: towardsB(2200),
      directions: 'a-to-b',
    })
    .block('U13', {
      from: [600, 532],
      to: [960, 532],
      pieces: towardsB(2200),
      directions: 'a-to-b',
    })
    .with({ detector: 'reader' })
    .block('U14', {
      from: [960, 532],
      to: [ENTRY_X, TOP],
      via: [
        [1310, 532],
        [1340, 502],
        [1340, 402],
        [1310, TOP],
      ],
      pieces: bothWays(3000),
      directions: 'a-to-b',
    });
  track.reversingSection('PY', 'Yard curve', ['U14'], { normal: 'U14.a', reversed: 'U14.b' });
}
