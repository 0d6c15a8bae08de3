import type { TrainState } from '../session/state.js';
import type { Train } from '../stock/train.js';

/** Undetected stretch at the end that leads now, in mm. */
export const leadingUnseen = (train: Train, state: TrainState): number =>
  state.frontLeads ? train.unseenFront : train.unseenRear;

/** Undetected stretch at the end that trails now, in mm. */
export const trailingUnseen = (train: Train, state: TrainState): number =>
  state.frontLeads ? train.unseenRear : train.unseenFront;
