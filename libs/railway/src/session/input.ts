import type { WantedService } from '../dispatching/added/wanted-service.js';
import type { DispatchPlan } from '../dispatching/plan.js';
import type { StagingRulesFile } from '../yards/staging-rules-file.js';
import type { DeviceEvent } from './device.js';

/** Who gave a command: a dispatcher, a crew, the plan; shown in the log. */
export type Actor = string;

/** What a person may ask of the session. Train, element and section numbers are compiled indexes. */
export type Command =
  | { readonly kind: 'power-up' }
  | { readonly kind: 'confirm-place'; readonly train: number; readonly heading: number }
  | { readonly kind: 'confirm-absent'; readonly train: number }
  /** A person looked and found the track of a block, or of another detected element, clear. */
  | { readonly kind: 'confirm-clear'; readonly block: number }
  | { readonly kind: 'start' }
  | { readonly kind: 'pause' }
  | { readonly kind: 'resume' }
  | { readonly kind: 'hold-departures'; readonly hold: boolean }
  | { readonly kind: 'stop-all' }
  | { readonly kind: 'cut-power' }
  | { readonly kind: 'set-clock-ratio'; readonly ratio: number }
  | { readonly kind: 'end-session' }
  | { readonly kind: 'acknowledge-alarm'; readonly alarm: number }
  | { readonly kind: 'declare-identity'; readonly block: number; readonly train: number }
  | { readonly kind: 'hold-train'; readonly train: number; readonly hold: boolean }
  /** The driver of a stalled or stopped train says that it may go on. */
  | { readonly kind: 'release-train'; readonly train: number }
  /**
   * Sets a route for a train on to a block, all or nothing: the shortest way there, or `route`, one that begins where the
   * train's way ends.
   */
  | {
      readonly kind: 'set-route';
      readonly train: number;
      readonly block: number;
      readonly route?: number | undefined;
    }
  /** Takes back what a train holds beyond its stopping distance, and holds the train. */
  | { readonly kind: 'give-back-route'; readonly train: number }
  | { readonly kind: 'turn-round'; readonly train: number }
  /** A crew drives the train from now on, within its authority; or gives it back. */
  | { readonly kind: 'take-in-hand'; readonly train: number; readonly take: boolean }
  /** Speed wanted for a train in hand, mm/s. */
  | { readonly kind: 'drive'; readonly train: number; readonly speed: number }
  /** Closes a block, turnout or crossing for work; `reason` in 1 to 60 characters. */
  | { readonly kind: 'close-track'; readonly element: number; readonly reason: string }
  | { readonly kind: 'reopen-track'; readonly element: number }
  /** The track of a call to come, by its name in the timetable; null takes the choice back. */
  | {
      readonly kind: 'choose-track';
      readonly train: number;
      readonly service: number;
      readonly call: number;
      readonly track: string | null;
    }
  /** One train goes before another over the next track that both need; `first` false takes that back. */
  | {
      readonly kind: 'go-first';
      readonly train: number;
      readonly before: number;
      readonly first: boolean;
    }
  /** Services that a train leaves out, from one to another of its work. */
  | {
      readonly kind: 'cancel-services';
      readonly train: number;
      readonly service: number;
      readonly through: number;
    }
  /** What was cancelled together with a service is run after all. */
  | { readonly kind: 'restore-services'; readonly train: number; readonly service: number }
  /** A service that a train runs beside its work, before one of it, or, null, where its times belong. */
  | {
      readonly kind: 'add-service';
      readonly train: number;
      readonly service: WantedService;
      readonly before: number | null;
    }
  /** Works the staging yards by these rules from now on; null: by none. */
  | { readonly kind: 'follow-staging-rules'; readonly rules: StagingRulesFile | null };

export type CommandKind = Command['kind'];

/** Everything that can happen to the engine. `at` is physical time in ms and never goes back. */
export type Input =
  | { readonly at: number; readonly kind: 'device'; readonly event: DeviceEvent }
  | {
      readonly at: number;
      readonly kind: 'command';
      readonly by: Actor;
      readonly command: Command;
    }
  /** A plan worked out outside the engine. */
  | { readonly at: number; readonly kind: 'plan'; readonly plan: DispatchPlan }
  /** The shell saw the deadline the engine had named come round. */
  | { readonly at: number; readonly kind: 'deadline' }
  /**
   * The program was started again during the session. The last inputs and what was done about them may be lost, and what
   * happened on the layout since then is not known. `tailLost`: more of them than the moment between two writings, for what
   * was written down did not hold; then nothing but a person's word places a train.
   */
  | { readonly at: number; readonly kind: 'started-again'; readonly tailLost?: boolean };
