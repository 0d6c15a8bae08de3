import type { ElementId, ServiceId, StationId, TrainId, WorkingId } from '../ids.js';
import type { TrainClass } from '../stock/stock-file.js';

/** Fast-clock time of day, `HH:MM` or `HH:MM:SS`; hours may pass 24 for a session over midnight. */
export type ClockText = string;

export interface CallFile {
  readonly station: StationId;
  /** Absent on the first call. */
  readonly arrive?: ClockText;
  /** Absent on the last call. */
  readonly depart?: ClockText;
  /** `pass`: goes through without stopping. Default `call`. */
  readonly stop?: 'call' | 'pass';
  /** Track ids of the station in order of preference; absent: any track the train fits. */
  readonly tracks?: readonly string[];
  /** Least dwell in fast-clock seconds and in real seconds; both hold. */
  readonly dwell?: { readonly fast: number; readonly real: number };
}

export interface ServiceFile {
  readonly id: ServiceId;
  readonly name: string;
  readonly calls: readonly CallFile[];
}

/** A service that names no train: when it is to leave, the rules of the staging yard where it begins say which train there works it. */
export interface OpenServiceFile extends ServiceFile {
  /** Only trains of these classes; absent: of any. */
  readonly classes?: readonly TrainClass[];
  /** How long after its booked departure a train is waited for, in fast-clock minutes; then it is not run. */
  readonly waitAtMost: number;
}

export interface ConnectionFile {
  readonly from: ServiceId;
  readonly to: ServiceId;
  readonly station: StationId;
  /** Least fast-clock seconds between the arrival and the departure. */
  readonly transfer: number;
  /** How long the connecting service waits at most, in fast-clock seconds. */
  readonly holdAtMost: number;
}

/** What one train does in the session: services one after the other. */
export interface WorkingFile {
  readonly id: WorkingId;
  readonly train: TrainId;
  readonly services: readonly ServiceId[];
}

/** Where a train is expected to stand when the session begins, front towards `towards`. */
export interface StoredPlaceFile {
  readonly train: TrainId;
  readonly block: ElementId;
  /** The block end its front looks to. */
  readonly towards: 'a' | 'b';
}

export interface TimetableFile {
  readonly kind: 'blockbell-timetable';
  readonly version: 1;
  readonly id: string;
  readonly name: string;
  readonly layout: string;
  readonly stock: string;
  readonly day: string;
  readonly clock: { readonly start: ClockText; readonly end: ClockText; readonly ratio: number };
  readonly services: readonly ServiceFile[];
  /** Absent: every service is in a working. */
  readonly openServices?: readonly OpenServiceFile[];
  readonly connections: readonly ConnectionFile[];
  readonly workings: readonly WorkingFile[];
  readonly storedPlaces: readonly StoredPlaceFile[];
}
