import type { TrackArea, TrackBuilder } from '@blockbell/simulation';

/** The parts of the demo by district, bus and level; limits are prototype km/h. */
export interface Areas {
  /** Tracks of the hidden yard. */
  readonly yard: TrackArea;
  /** Its ladders, and the line down to it. */
  readonly yardLine: TrackArea;
  /** The double-track main line and its stations, west and east of the power boundary. */
  readonly west: TrackArea;
  readonly east: TrackArea;
  readonly branch: TrackArea;
}

export function createAreas(track: TrackBuilder): Areas {
  const hidden = { level: 'hidden', district: 'yard', bus: 'below' };
  const west = { level: 'open', district: 'west', bus: 'above', divergingLimit: 40 };
  const branch = { level: 'open', district: 'branch', bus: 'valley', divergingLimit: 35 };
  return {
    yard: track.area({ ...hidden, detector: 'reader', speedLimit: 45 }),
    yardLine: track.area({
      ...hidden,
      detector: 'current-sensor',
      divergingLimit: 40,
      speedLimit: 65,
    }),
    west: track.area({ ...west, detector: 'reader', speedLimit: 85 }),
    east: track.area({ ...west, district: 'east', detector: 'reader', speedLimit: 85 }),
    branch: track.area({ ...branch, detector: 'single-reader', speedLimit: 50 }),
  };
}

/** Length of the section in which a train comes to a stand, in mm. */
const STOP_SECTION = 300;

/** Pieces of track worked towards `b`: plain track, then a stop section. */
export const towardsB = (length: number): readonly number[] => [
  length - STOP_SECTION,
  STOP_SECTION,
];
export const towardsA = (length: number): readonly number[] => [
  STOP_SECTION,
  length - STOP_SECTION,
];
/** Pieces of track worked both ways, or whose rear end must prove a tail clear. */
export const bothWays = (length: number): readonly number[] => [250, length - 500, 250];
