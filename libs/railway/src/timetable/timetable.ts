import type {
  ConnectionFile,
  OpenServiceFile,
  ServiceFile,
  WorkingFile,
} from './timetable-file.js';
import type { ElementIndex, Heading, StationIndex } from '../layout/layout.js';
import type { TrainIndex } from '../stock/train.js';
import type { FastTime, Milliseconds } from '../units.js';

/** A call with its names resolved and its times parsed. */
export interface Call {
  readonly station: StationIndex;
  readonly arrive: FastTime | null;
  readonly depart: FastTime | null;
  readonly stops: boolean;
  /** Block sets in order of preference: where the train may stand (or pass). */
  readonly tracks: readonly { readonly name: string; readonly blocks: readonly ElementIndex[] }[];
  /** Least dwell on the fast clock and in physical time. */
  readonly dwellFast: Milliseconds;
  readonly dwellReal: Milliseconds;
}

export interface Service {
  readonly index: number;
  readonly file: ServiceFile;
  readonly calls: readonly Call[];
}

export interface Working {
  readonly file: WorkingFile;
  readonly train: TrainIndex;
  readonly services: readonly number[];
}

/** A service for which a train is chosen when it is to leave. */
export interface OpenService {
  readonly file: OpenServiceFile;
  /** The staging yard where it begins. */
  readonly station: StationIndex;
  readonly depart: FastTime;
  /** From then on no train is looked for any more. */
  readonly until: FastTime;
}

export interface Connection {
  readonly file: ConnectionFile;
  readonly from: number;
  readonly to: number;
  readonly station: StationIndex;
  readonly transfer: Milliseconds;
  readonly holdAtMost: Milliseconds;
}

export interface Timetable {
  readonly start: FastTime;
  readonly end: FastTime;
  readonly ratio: number;
  readonly services: readonly Service[];
  readonly openServices: readonly OpenService[];
  readonly connections: readonly Connection[];
  /** By train index; null for a train without work. */
  readonly workings: readonly (Working | null)[];
  /** By train index; null for a train that is not on the layout. */
  readonly storedPlaces: readonly (Heading | null)[];
}
