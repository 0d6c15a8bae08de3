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
import { RowTable } from './row-table.js';

class Signal {
  #version = $state(0);

  read(): void {
    void this.#version;
  }

  changed(): void {
    this.#version += 1;
  }
}

const table = <Row>(): RowTable<Row> => new RowTable<Row>(new Signal(), new Signal());

/** The board's copy of the state: short tables watched row by row, long ones as a whole. */
export class ReactiveRows implements LiveRows {
  session = $state.raw<SessionView | null>(null);
  readonly sections = table<SectionView>();
  readonly elements = table<ElementView>();
  readonly signals = table<SignalView>();
  readonly trains = new SvelteMap<number, TrainView>();
  readonly alarms = new SvelteMap<number, AlarmView>();
  readonly runs = new SvelteMap<number, RunView>();
  lineUp = $state.raw<readonly LineUpView[]>([]);
  strangers = $state.raw<readonly StrangerView[]>([]);
  log = $state.raw<readonly LogView[]>([]);
}
