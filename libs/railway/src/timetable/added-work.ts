import type { ServiceFile } from './timetable-file.js';

/** A service that a dispatcher added to the work of a train. */
export interface AddedService {
  readonly train: number;
  readonly file: ServiceFile;
}

/** A call that a train makes in another station than booked, for that had no track for it. */
export interface CallElsewhere {
  readonly train: number;
  readonly service: number;
  readonly call: number;
  /** Index of the station where the call is made. */
  readonly station: number;
  /** One sentence. */
  readonly why: string;
}

/**
 * What is other than in the timetable of a session since it began: plain data, replaced and never changed. Services that were added are
 * numbered on from those of the timetable.
 */
export interface AddedWork {
  readonly services: readonly AddedService[];
  /** By train whose work is another than in the timetable: all its services in order, by their numbers. */
  readonly workings: readonly { readonly train: number; readonly services: readonly number[] }[];
  readonly elsewhere: readonly CallElsewhere[];
  /** How often it was replaced: what was reckoned with another knows legs by other numbers. */
  readonly edition: number;
}

export const noAddedWork = (): AddedWork => ({
  services: [],
  workings: [],
  elsewhere: [],
  edition: 0,
});
