import type { Command, LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import type { Pace } from './small-world/body.js';

/** A small railway with what its trains are to do: all of a session is played through on it, whatever comes in between. */
export interface Scenario {
  readonly name: string;
  /** One sentence. */
  readonly about: string;
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

/** What may come in between: each once for every disturbance that the bounds allow. */
export type Disturbance =
  /** A section loses contact with the train in it, for less than its hold-off. */
  | { readonly kind: 'dropout'; readonly section: number }
  /** A drive does not follow the command it was just given. */
  | { readonly kind: 'stuck-throw'; readonly element: number }
  /** A section reports the decoder of another train. */
  | { readonly kind: 'misread'; readonly message: number; readonly train: number }
  /** An operator gives a command that nothing asks for. */
  | { readonly kind: 'command'; readonly command: Command }
  /** The program is started again; nothing that it had written down is lost. */
  | { readonly kind: 'restart' };

export type DisturbanceKind = Disturbance['kind'];

/** Within which the space of states is gone through whole. */
export interface Bounds {
  /** Disturbances in one session at most, of any of the kinds. */
  readonly disturbances: number;
  readonly kinds: readonly DisturbanceKind[];
  /** How trains run: each at either end of what was measured, in every combination, or as listed by train. */
  readonly paces: 'every' | readonly Pace[];
  /**
   * Within the span in which something may happen, given what is to happen before it: at its earliest and its latest moment
   * (`ends`), or at its earliest alone, and at its latest where it can wait no longer (`early`). All orders come about in both.
   */
  readonly moments: 'ends' | 'early';
  /**
   * What is taken for one state: `order`, where the engine's decisions, the places by detected stretches and the order of all
   * that is to come agree; `exact`, where deadlines, reckoning, the spans of what comes next and all places do so to the ms and the µm.
   */
  readonly resolution: 'order' | 'exact';
  /** States at which to give up. */
  readonly states: number;
}
