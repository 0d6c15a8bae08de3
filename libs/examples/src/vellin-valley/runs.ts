import type { ServiceFile } from '@blockbell/railway';
import { service, type Stop } from '@blockbell/simulation';
import { runningMinutes, type Pace } from './running-minutes.js';

/** A place on the way: its station, the tracks in order of preference, and how the train treats it. */
export interface Place {
  readonly station: string;
  readonly tracks: readonly string[];
  readonly pass?: boolean;
  /** Booked minutes at a stop; default 2. */
  readonly stay?: number;
  /** Booked minutes on the way here beyond the usual. */
  readonly detour?: number;
}

const BOOKED_STAY = 2;
const DWELL = { fast: 60, real: 5 };

/** A service whose times follow from the booked minutes of its pace. */
export function run(
  id: string,
  name: string,
  pace: Pace,
  departure: string,
  places: readonly Place[],
): ServiceFile {
  let minute = 0;
  const stops = places.map((place, index): Stop => {
    const before = places[index - 1];
    const { station, tracks } = place;
    if (before === undefined) return { station, tracks, depart: 0 };
    minute += runningMinutes(pace, before.station, station) + (place.detour ?? 0);
    if (place.pass === true) return { station, tracks, depart: minute, pass: true };
    const arrive = minute;
    if (index === places.length - 1) return { station, tracks, arrive };
    minute += place.stay ?? BOOKED_STAY;
    return { station, tracks, arrive, depart: minute, dwell: DWELL };
  });
  return service(id, name, departure, stops);
}

/** All through tracks of the yard, `first` the most wanted. */
export const throughTracks = (first: string): readonly string[] =>
  preferring(first, ['Y1', 'Y2', 'Y3', 'Y4', 'Y5', 'Y6', 'Y7', 'Y8']);
export const deadEnds = (first: string): readonly string[] => preferring(first, ['X1', 'X2', 'X3']);
/** The platforms of Selquay in which a train can reverse. */
export const terminalPlatforms = (first: string): readonly string[] =>
  preferring(first, ['C1', 'C2', 'C5']);

const preferring = (first: string, all: readonly string[]): readonly string[] => [
  first,
  ...all.filter((track) => track !== first),
];
