import type { EngineState, Input, StepResult } from '@blockbell/railway';
import { stepOf } from '@blockbell/railway';
import type { Fault, FaultKind, Incident } from '@blockbell/simulation';
import type { Rehearsal } from '../rehearsal.js';
import { headOnPath } from './head-on-path.js';
import { Misled } from './misled.js';
import { isExcuse, type InvariantNumber, type Violation } from './violation.js';

/** How long a train with nothing in its way may stand all the same, physical ms. */
const STUCK_AFTER = 60_000;
/** What rounding of positions and times may add up to, mm. */
const ROUNDING = 1;

const INCIDENT: Record<Incident['kind'], InvariantNumber> = {
  contact: 1,
  'buffer-struck': 1,
  'run-through': 2,
  'moved-under': 2,
  'wrong-polarity': 2,
};

/**
 * Checks the invariants of safety after every step of a rehearsal, against the simulated truth. It looks at what the
 * step changed: a train that would break its limit is still beyond it at the step that next concerns it, so nothing is
 * missed by not looking at all trains each time.
 */
export class InvariantChecker {
  readonly violations: Violation[] = [];
  readonly #rehearsal: Rehearsal;
  #incidents = 0;
  /** By train: the limit in force before the step. */
  readonly #limits: number[];
  /** By element: for whom it was held before the step; −1 for nobody. */
  readonly #holders: number[];
  /** By train: since when it stands though nothing is in its way; −1 otherwise. */
  readonly #idleSince: number[];

  readonly #misled: Misled;
  /** Trains that an excused incident may have moved, until their place is settled again. */
  readonly #pushed = new Map<number, FaultKind>();
  readonly #pushedDoubted = new Set<number>();
  /** By fault: its train has been stopped or doubted since, and settled after that. */
  readonly #doubted = new Set<number>();
  readonly #settled = new Set<number>();
  /** Faults that did hang a train on behind another. */
  readonly #coupled = new Set<number>();
  /** Faults that can excuse anything, of the first so many of all: a session has hundreds, and few are among these. */
  readonly #excusing: number[] = [];
  #sifted = 0;

  constructor(rehearsal: Rehearsal) {
    this.#rehearsal = rehearsal;
    this.#misled = new Misled(rehearsal);
    this.#limits = rehearsal.state.trains.map(({ limit }) => limit);
    this.#holders = rehearsal.state.elements.map(({ holder }) => holder);
    this.#idleSince = rehearsal.state.trains.map(() => -1);
    rehearsal.observe((_, input, result) => this.#check(input, result));
  }

  /** Violations that no fault excuses. */
  get broken(): Violation[] {
    return this.violations.filter(({ excuse }) => excuse === null);
  }

  #check(input: Input, { effects, changes }: StepResult): void {
    const { state } = this.#rehearsal;
    this.#misled.follow(changes.trains);
    this.#followCouplings();
    this.#checkIncidents();
    this.#followExcuses();
    for (const train of changes.trains) {
      this.#checkLimit(train);
      this.#checkPath(state, train);
    }
    for (const element of changes.elements) this.#checkElement(state, element);
    for (const effect of effects) {
      if (effect.kind !== 'device') continue;
      if (effect.command.kind === 'set-drive') this.#checkThrow(effect.command.element);
      if (effect.command.kind === 'set-speed' && effect.command.step > 0) this.#checkMove(state);
    }
    this.#checkIdle(state, input.at);
  }

  /** 1 and 2: what the truth itself has written down. */
  #checkIncidents(): void {
    const { incidents, faults } = this.#rehearsal.simulated.truth;
    for (; this.#incidents < incidents.length; this.#incidents++) {
      const { kind, element, trains, detail, causes } = incidents[this.#incidents]!;
      const excuse =
        causes.find((cause) => isExcuse(faults[cause.fault]!.fault))?.kind ??
        trains.map((train) => this.excuseOf(train)).find((each) => each !== null) ??
        (kind === 'run-through' ? this.#stuckUnseen(element) : null);
      if (excuse !== null) for (const train of trains) this.#pushed.set(train, excuse);
      const where = this.#rehearsal.world.layout.elements[element]!.id;
      this.#note(
        INCIDENT[kind],
        `${kind} at ${where}: ${detail} (${this.#labels(trains)})`,
        excuse,
      );
    }
  }

  /** 3: the head against the limit that was locked for it until now. */
  #checkLimit(train: number): void {
    const { state, simulated, world } = this.#rehearsal;
    const limit = Math.max(this.#limits[train]!, state.trains[train]!.limit);
    this.#limits[train] = state.trains[train]!.limit;
    const truth = simulated.truth.train(train);
    if (truth === null || !state.trains[train]!.confirmed) return;
    const head = headOnPath(world.layout, state.trains[train]!, truth);
    if (head !== null && head <= limit + ROUNDING) return;
    const where =
      head === null
        ? 'has left the way held for it'
        : `stands ${Math.round(head - limit)} mm beyond its limit`;
    const excuse = head === null ? this.excuseAstray(train) : this.excuseOf(train);
    if (excuse !== null) this.#pushed.set(train, excuse);
    this.#note(3, `${this.#labels([train])} ${where}`, excuse);
  }

  /**
   * The fault by which a train may be elsewhere than on its way: one of its own, or a drive on its way that lies otherwise than
   * anybody can know; null without one.
   */
  excuseAstray(train: number): FaultKind | null {
    const { path } = this.#rehearsal.state.trains[train]!;
    const isMisled = path.some(({ element }) => this.#stuckUnseen(element) !== null);
    return this.excuseOf(train) ?? (isMisled ? 'stuck-drive' : null);
  }

  /** Whether a drive without feedback has ignored its command and lies otherwise than presumed: nobody can know that. */
  #stuckUnseen(element: number): FaultKind | null {
    const { simulated, state, world } = this.#rehearsal;
    const { drive } = world.layout.elements[element]!;
    if (drive === null || drive.feedback) return null;
    const truth = simulated.truth.drive(element);
    if (truth === null || truth.moving !== null) return null;
    if (truth.position === state.elements[element]!.position) return null;
    const hasStuck = simulated.truth.faults.some(
      ({ fault, active, ended }) =>
        fault.kind === 'stuck-drive' && fault.element === element && (active || ended),
    );
    return hasStuck ? 'stuck-drive' : null;
  }

  /** 4: all that is on a train's way is held for it. */
  #checkPath(state: EngineState, train: number): void {
    for (const { element } of state.trains[train]!.path) {
      const { holder } = state.elements[element]!;
      if (holder === train) continue;
      this.#note(
        4,
        `${this.#name(element)} on the way of ${this.#labels([train])} is not held for it`,
        null,
      );
    }
  }

  /** 4 and 6: what was freed is clear of trains; what is held is on its holder's way. */
  #checkElement(state: EngineState, element: number): void {
    const { holder } = state.elements[element]!;
    const before = this.#holders[element]!;
    this.#holders[element] = holder;
    for (const { train } of this.#standingOn(element)) {
      // It may have been freed and given to another within one step.
      const wasFreed = holder < 0 || (before === train && holder !== train);
      if (!wasFreed || !state.trains[train]!.confirmed) continue;
      const text = `${this.#name(element)} was freed under ${this.#labels([train])}`;
      this.#note(4, text, this.excuseOf(train));
    }
    if (holder < 0) return;
    const { activity, path } = state.trains[holder]!;
    const { layout } = this.#rehearsal.world;
    const onWay = path.some(
      (item) =>
        item.element === element ||
        stepOf(layout, item).gaps.some((gap) => gap.element === element),
    );
    if (activity.kind !== 'absent' && onWay) return;
    this.#note(
      6,
      `${this.#name(element)} is held for ${this.#labels([holder])}, which is not on it`,
      null,
    );
  }

  /** 2: no drive is commanded under a train. */
  #checkThrow(element: number): void {
    const on = this.#standingOn(element);
    if (on.length === 0) return;
    const trains = on.map(({ train }) => train);
    const excuse =
      trains.map((train) => this.excuseOf(train)).find((each) => each !== null) ?? null;
    this.#note(2, `${this.#name(element)} was commanded under ${this.#labels(trains)}`, excuse);
  }

  /** 7: speed is commanded only in a session that runs, with power, from confirmed places. */
  #checkMove(state: EngineState): void {
    const { kind } = state.session.phase;
    const running = kind === 'running' || kind === 'paused' || kind === 'ending';
    if (running && state.districts.every(({ power }) => power === 'on')) return;
    this.#note(7, `a train was told to run while the session was ${kind}`, null);
  }

  /** 5: nothing in the way, and yet it stands. */
  #checkIdle(state: EngineState, at: number): void {
    const running = state.session.phase.kind === 'running';
    state.trains.forEach(({ activity, wait }, train) => {
      const idle = running && activity.kind === 'standing' && wait === null;
      if (!idle) this.#idleSince[train] = -1;
      else if (this.#idleSince[train]! < 0) this.#idleSince[train] = at;
      else if (at - this.#idleSince[train]! > STUCK_AFTER) {
        this.#note(5, `${this.#labels([train])} stands though nothing is in its way`, null);
        this.#idleSince[train] = at;
      }
    });
  }

  /** Trains really standing on an element; for a reversing section, bridging its gaps is told by the simulation. */
  #standingOn(element: number): { train: number }[] {
    const { simulated } = this.#rehearsal;
    return simulated.truth
      .trains()
      .filter(
        ({ leftBehind, stretches }) =>
          !leftBehind && stretches.some((s) => s.element === element && s.to - s.from > ROUNDING),
      );
  }

  /**
   * The fault by which a train may be where no logic could keep it from; null without one. A fault excuses its train until
   * its place has been settled anew, and while it is in doubt again.
   */
  excuseOf(train: number): FaultKind | null {
    const { faults } = this.#rehearsal.simulated.truth;
    const at = this.#excusingFaults().find((index) => {
      const { fault, active, ended } = faults[index]!;
      return (
        trainsOf(fault).includes(train) &&
        (fault.kind !== 'coupled' || this.#coupled.has(index)) &&
        (active || (ended && !(this.#settled.has(index) && this.#isSettled(train))))
      );
    });
    return (
      (at === undefined ? null : faults[at]!.fault.kind) ??
      this.#pushed.get(train) ??
      (this.#misled.has(train) ? 'dropout' : null)
    );
  }

  /** Those there are by now; faults only ever come, none is taken out again. */
  #excusingFaults(): readonly number[] {
    const { faults } = this.#rehearsal.simulated.truth;
    for (; this.#sifted < faults.length; this.#sifted++) {
      if (isExcuse(faults[this.#sifted]!.fault)) this.#excusing.push(this.#sifted);
    }
    return this.#excusing;
  }

  /** A coupling that came to nothing excuses nothing. */
  #followCouplings(): void {
    const { faults } = this.#rehearsal.simulated.truth;
    for (const index of this.#excusingFaults()) {
      if (this.#isCoupled(faults[index]!.fault)) this.#coupled.add(index);
    }
  }

  /** Follows, for faults that are over, whether their trains have been stopped or doubted and then settled. */
  #followExcuses(): void {
    const { faults } = this.#rehearsal.simulated.truth;
    for (const index of this.#excusingFaults()) {
      const { fault, ended } = faults[index]!;
      if (!ended || this.#settled.has(index)) continue;
      const trains = trainsOf(fault);
      if (!trains.every((train) => this.#isSettled(train))) this.#doubted.add(index);
      else if (this.#doubted.has(index) && !this.#isCoupled(fault)) this.#settled.add(index);
    }
    for (const train of this.#pushed.keys()) {
      if (!this.#isSettled(train)) this.#pushedDoubted.add(train);
      else if (this.#pushedDoubted.delete(train)) this.#pushed.delete(train);
    }
  }

  /** Whether what was to be coupled is: nobody who only looks at the train in front settles that. */
  #isCoupled(fault: Fault): boolean {
    return (
      fault.kind === 'coupled' &&
      this.#rehearsal.simulated.truth.train(fault.train)?.carries === fault.other
    );
  }

  /** Whether nothing is open about a train's place: it is confirmed and not halted, or truly off the layout, and the session runs. */
  #isSettled(train: number): boolean {
    const { session, trains } = this.#rehearsal.state;
    const { activity, confirmed } = trains[train]!;
    const isAway =
      activity.kind === 'absent' && this.#rehearsal.simulated.truth.train(train) === null;
    const isPlaced = isAway || (confirmed && activity.kind !== 'halted');
    return session.phase.kind === 'running' && isPlaced;
  }

  #note(invariant: InvariantNumber, text: string, excuse: FaultKind | null): void {
    const { now, state } = this.#rehearsal;
    this.violations.push({ invariant, at: now, step: state.revision, text, excuse });
  }

  #labels(trains: readonly number[]): string {
    return trains.map((train) => this.#rehearsal.world.stock.trains[train]!.file.label).join(', ');
  }

  #name(element: number): string {
    return this.#rehearsal.world.layout.elements[element]!.id;
  }
}

/** The trains that a fault concerns. */
const trainsOf = (fault: Fault): readonly number[] =>
  fault.kind === 'coupled' ? [fault.train, fault.other] : 'train' in fault ? [fault.train] : [];
