import type { DeviceCommand } from './device.js';
import type { Effect } from './effect.js';
import type { FollowUp } from './follow-up.js';
import type {
  DistrictState,
  EngineState,
  ElementState,
  SectionState,
  SessionState,
  TrainState,
} from './state.js';
import type { World } from './world.js';

/** World and state, to look at. */
export interface Seen {
  readonly world: World;
  readonly state: EngineState;
}

/** What a step changed, by index; what a board must be told. */
export interface Changes {
  session: boolean;
  lineUp: boolean;
  sections: Set<number>;
  elements: Set<number>;
  trains: Set<number>;
  /** Headings whose signal changed. */
  signals: Set<number>;
  /** Alarm ids. */
  alarms: Set<number>;
}

export const noChanges = (): Changes => ({
  session: false,
  lineUp: false,
  sections: new Set(),
  elements: new Set(),
  trains: new Set(),
  signals: new Set(),
  alarms: new Set(),
});

/** Steps of the proven order gone through in one engine step, save for the last look at it; what is left waits for the next. */
const ORDER_SLICE = 2000;

/**
 * The one way in which a step changes the state: whoever asks it for a row to change has the change recorded.
 * Reading goes through `state` directly.
 */
export class Writer {
  readonly effects: Effect[] = [];
  readonly changes: Changes = noChanges();
  /** What rules ask of one another within this step; see `carry-out.ts`. */
  readonly followUps: FollowUp[] = [];
  /** Node expansions of search still allowed in this step. */
  searchBudget: number;
  /** Those taken so far. */
  expansions = 0;
  /** Steps of the proven order that may still be gone through in this step. */
  orderBudget = ORDER_SLICE;

  constructor(
    readonly world: World,
    readonly state: EngineState,
    readonly now: number,
    searchBudget: number,
  ) {
    this.searchBudget = searchBudget;
  }

  section(index: number): SectionState {
    this.changes.sections.add(index);
    return this.state.sections[index]!;
  }

  element(index: number): ElementState {
    this.changes.elements.add(index);
    return this.state.elements[index]!;
  }

  train(index: number): TrainState {
    this.changes.trains.add(index);
    return this.state.trains[index]!;
  }

  district(index: number): DistrictState {
    this.changes.session = true;
    return this.state.districts[index]!;
  }

  session(): SessionState {
    this.changes.session = true;
    return this.state.session;
  }

  /** Leaves something for another rule to do before the step ends. */
  follow(followUp: FollowUp): void {
    this.followUps.push(followUp);
  }

  /** Counts node expansions of search. */
  searched(expansions: number): void {
    this.expansions += expansions;
    this.searchBudget = Math.max(0, this.searchBudget - expansions);
  }

  /** Counts steps of the proven order gone through to see what it says of a move. */
  readOrder(steps: number): void {
    this.orderBudget = Math.max(0, this.orderBudget - steps);
  }

  /** Asks the shell to send a command to the layout. */
  send(command: DeviceCommand): void {
    this.effects.push({ kind: 'device', command });
  }

  log(text: string, train: number | null = null): void {
    this.effects.push({ kind: 'log', text, train });
  }
}
