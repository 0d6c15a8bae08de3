import type { ServiceFile } from './timetable-file.js';

/** A service that a dispatcher added to the work of a train. */
export interface AddedService {
  readonly train: number;
  readonly file: ServiceFile;
}

/**
 * What was added to the timetable of a session since it began: plain data, replaced and never changed. The services are numbered on
 * from those of the timetable.
 */
export interface AddedWork {
  readonly services: readonly AddedService[];
  /** By train whose work is another than in the timetable: all its services in order, by their numbers. */
  readonly workings: readonly { readonly train: number; readonly services: readonly number[] }[];
}

export const noAddedWork = (): AddedWork => ({ services: [], workings: [] });
