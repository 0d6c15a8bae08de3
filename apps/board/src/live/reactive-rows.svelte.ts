import type {
  AlarmView,
  ElementView,
  LineUpView,
  LogView,
  RunView,
  SectionView,
  SessionView,
  SignalView,
  StrangerView,
  TrainView,
} from '@blockbell/contract/messages';
import { SvelteMap } from 'svelte/reactivity';
import type { LiveRows } from './live-rows.js';

/** The board's copy of the state, watched row by row: a changed section redraws that section only. */
export class ReactiveRows implements LiveRows {
  session = $state.raw<SessionView | null>(null);
  readonly sections = new SvelteMap<number, SectionView>();
  readonly elements = new SvelteMap<number, ElementView>();
  readonly signals = new SvelteMap<number, SignalView>();
  readonly trains = new SvelteMap<number, TrainView>();
  readonly alarms = new SvelteMap<number, AlarmView>();
  readonly runs = new SvelteMap<number, RunView>();
  lineUp = $state.raw<readonly LineUpView[]>([]);
  strangers = $state.raw<readonly StrangerView[]>([]);
  log = $state.raw<readonly LogView[]>([]);
}
