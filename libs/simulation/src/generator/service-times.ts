import {
  type CallFile,
  type ElementId,
  type ServiceFile,
  type ServiceId,
  type StationId,
  type StoredPlaceFile,
  type TrainId,
  type WorkingFile,
  type WorkingId,
} from '@blockbell/railway/track';

/** A stop or pass on the way, in minutes after the service's departure. */
export interface Stop {
  readonly station: string;
  readonly arrive?: number;
  readonly depart?: number;
  readonly pass?: boolean;
  readonly tracks?: readonly string[];
  readonly dwell?: { readonly fast: number; readonly real: number };
}

/** Minutes since midnight as `HH:MM`. */
export const clockText = (minutes: number): string =>
  `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;

/** Minutes since midnight of `HH:MM`. */
export const minutesOf = (text: string): number =>
  Number(text.slice(0, 2)) * 60 + Number(text.slice(3));

/** A service that leaves at `departure` (`HH:MM`) and makes these stops. */
export function service(
  id: string,
  name: string,
  departure: string,
  stops: readonly Stop[],
): ServiceFile {
  const start = minutesOf(departure);
  const calls = stops.map((stop): CallFile => ({
    station: stop.station as StationId,
    ...(stop.arrive === undefined ? {} : { arrive: clockText(start + stop.arrive) }),
    ...(stop.depart === undefined ? {} : { depart: clockText(start + stop.depart) }),
    ...(stop.pass === true ? { stop: 'pass' as const } : {}),
    ...(stop.tracks === undefined ? {} : { tracks: stop.tracks }),
    ...(stop.dwell === undefined ? {} : { dwell: stop.dwell }),
  }));
  return { id: id as ServiceId, name, calls };
}

export const working = (id: string, train: string, services: readonly string[]): WorkingFile => ({
  id: id as WorkingId,
  train: train as TrainId,
  services: services as readonly ServiceId[],
});

export const stored = (train: string, block: string, towards: 'a' | 'b'): StoredPlaceFile => ({
  train: train as TrainId,
  block: block as ElementId,
  towards,
});
