import type { DeviceEvent } from '@blockbell/railway';
import type { Body } from './body.js';

/** A message on its way: it arrives at a moment of its span, ms, and never before an earlier one of its lane. */
export interface Message {
  readonly event: DeviceEvent;
  readonly from: number;
  readonly until: number;
  readonly lane: string;
}

export interface SmallDrive {
  position: string;
  /** Where it is on its way to, arriving at a moment of its span. */
  moving: { readonly to: string; readonly from: number; readonly until: number } | null;
}

/** A lost contact in an occupied section; it comes back at a moment of the span. */
export interface Dropout {
  readonly section: number;
  readonly from: number;
  readonly until: number;
}

/** What went wrong in the small world itself. */
export interface Mishap {
  readonly invariant: 1 | 2;
  readonly text: string;
}

/** The truth, as plain data: where the trains stand, how drives lie, what is on its way to the engine. */
export interface SmallState {
  /** ms. */
  now: number;
  /** By train; null: not on the layout. */
  bodies: (Body | null)[];
  /** By element; null where nothing is driven. */
  drives: (SmallDrive | null)[];
  /** By district. */
  powered: boolean[];
  /** By section: what its detector said last; null: nothing since power came. */
  readings: (boolean | null)[];
  dropouts: Dropout[];
  messages: Message[];
  mishaps: Mishap[];
}
