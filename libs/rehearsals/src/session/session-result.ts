/** What one rehearsed session came to: plain data, small enough to keep of hundreds. Times in fast-clock ms where not said. */
export interface SessionResult {
  readonly seed: number;
  /** Whether all trains were done with their work within the time allowed. */
  readonly ended: boolean;
  /** Physical ms from the session's making to its end. */
  readonly duration: number;
  readonly steps: number;
  /** Numbers of the services that did not arrive wherever they stop; −1 − i: the i-th that names no train got none. */
  readonly notRun: readonly number[];
  /** By service that names no train: the train that ran it; null: none did. */
  readonly open: readonly (number | null)[];
  /** By booked stop, in the order of {@link bookedStops}: how late the arrival was, below zero when early; null: none. */
  readonly late: readonly (number | null)[];
  /** By connection of the timetable: whether it was kept; null: one of the two services never came. */
  readonly connections: readonly (boolean | null)[];
  /** Time that services had lost waiting, as of their last arrivals. */
  readonly waits: readonly SessionWait[];
  /** Sums over the services as of their last arrivals: brought from the service before, own, waiting for others, made up. */
  readonly delay: Readonly<Record<'entry' | 'own' | 'knockOn' | 'recovered', number>>;
  /** By staging yard and sample, every {@link SAMPLE_EVERY} from the session's start: trains that stand there. */
  readonly yards: readonly (readonly number[])[];
  /** Alarms by their kind. */
  readonly alarms: Readonly<Record<string, number>>;
  /** Trains that do not stand at the end where they stood at the beginning, front the same way. */
  readonly elsewhere: readonly number[];
  /** Violations of a rule of safety that no cause excuses. */
  readonly violations: number;
  /** Content hash of the engine's state at the end. */
  readonly digest: string;
}

/** Time lost by a train waiting; `train` is the one it waited for, −1: none. `place` is an element, −1: unknown. */
export interface SessionWait {
  readonly waiter: number;
  readonly train: number;
  readonly place: number;
  readonly time: number;
}

/** Between two looks into the staging yards, fast-clock ms. */
export const SAMPLE_EVERY = 300_000;
