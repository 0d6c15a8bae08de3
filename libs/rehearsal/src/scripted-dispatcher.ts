import {
  headingOf,
  lineUpRows,
  openQuestions,
  opposite,
  strangeSections,
  type Command,
} from '@blockbell/railway';
import type { TruthTrain } from '@blockbell/simulation';
import { askedFor, trackFor } from './answer-yards.js';
import type { Rehearsal } from './rehearsal.js';
import { isTurnedRound, standsFoul, standsOnItsWay } from './where-believed.js';

/** How long a person takes to notice, look and answer, in physical ms. */
const LOOKING = 8000;
const NAME = 'scripted dispatcher';

/**
 * A person at the layout, for rehearsals: raises power, answers the line-up by looking at the simulated truth, starts,
 * and sees to whatever is asked or halted, after the time a person takes. It knows nothing that could not be
 * seen standing beside the track, and it never answers before a fault's cause is gone.
 */
export class ScriptedDispatcher {
  #since: number | null = null;
  /** Trains that were taken off another and lie beside the track. */
  readonly #beside: number[] = [];
  /** By train: tracks named for it where the rules of a staging yard found none. */
  readonly #named = new Map<number, readonly string[]>();

  constructor(readonly rehearsal: Rehearsal) {}

  /** Whether anything waits for a person now. */
  isNeeded(): boolean {
    const { state } = this.rehearsal;
    const { kind } = state.session.phase;
    if (kind === 'ended') return false;
    if (kind !== 'running' && kind !== 'ending') return true;
    return this.#isHandNeeded() || askedFor(this.rehearsal).length > 0;
  }

  /** Whether somebody has to go to the track. */
  #isHandNeeded(): boolean {
    const { state } = this.rehearsal;
    return (
      state.trains.some(({ activity }) => activity.kind === 'halted') ||
      state.sections.some(({ unidentified }) => unidentified !== null) ||
      state.alarms.some(({ key, clearedAt }) => clearedAt === null && key.startsWith('behind:'))
    );
  }

  /** Looks round once; acts when something has been waiting long enough. */
  look(): void {
    const { rehearsal } = this;
    if (!this.isNeeded()) {
      this.#since = null;
      return;
    }
    this.#since ??= rehearsal.now;
    if (rehearsal.now - this.#since < LOOKING || this.#anythingMoves()) return;
    this.#act();
  }

  #act(): void {
    const { state } = this.rehearsal;
    switch (state.session.phase.kind) {
      case 'set-up':
      case 'powerless':
      case 'stopped':
        this.#give({ kind: 'power-up' });
        return;
      case 'line-up':
        if (!state.session.phase.settled) return;
        if (state.districts.some(({ power }) => power !== 'on')) {
          this.#give({ kind: 'power-up' });
          return;
        }
        if (this.#answer()) return;
        if (openQuestions(this.rehearsal.world, state) > 0) return;
        this.#give({ kind: state.session.begun ? 'resume' : 'start' });
        return;
      case 'paused':
        this.#give({ kind: 'resume' });
        return;
      default:
        if (this.#isHandNeeded()) this.#seeToHalted();
        this.#nameTracks();
    }
  }

  /** Names a track for whoever waits outside a staging yard until a person says one. */
  #nameTracks(): void {
    for (const train of askedFor(this.rehearsal)) {
      const command = trackFor(this.rehearsal, train, this.#named);
      if (command !== null) this.#give(command);
    }
  }

  /** Answers every open row of the line-up by what really stands there. Returns whether trains were put back besides. */
  #answer(): boolean {
    const { world, state } = this.rehearsal;
    this.#liftLost();
    if (this.#takeApart()) return true;
    for (const row of lineUpRows(world, state)) {
      if (row.status === 'ask' || row.status === 'missing' || row.status === 'mismatch') {
        this.#sayWhere(row.train);
      }
    }
    const putBack = this.#putBackStrays();
    for (const section of strangeSections(state)) this.#sayClear(section);
    return putBack;
  }

  #seeToHalted(): void {
    const { state } = this.rehearsal;
    this.#liftLost();
    if (this.#takeApart()) return;
    this.#clearBehind();
    this.#putBackStrays();
    state.trains.forEach(({ activity, identity }, train) => {
      if (activity.kind !== 'halted') return;
      if (isTurnedRound(this.rehearsal, train) || standsFoul(this.rehearsal, train)) {
        this.#putBack(train);
      } else if (standsOnItsWay(this.rehearsal, train) && identity.certainty !== 'ambiguous') {
        const refused = this.#give({ kind: 'release-train', train });
        if (refused !== null) this.#sayWhere(train);
      } else {
        this.#sayWhere(train);
      }
    });
    state.sections.forEach(({ unidentified }, section) => {
      if (unidentified !== null) this.#sayClear(section);
    });
  }

  /**
   * Says where a train stands. One that straddles blocks, stands foul, or could not go on from where it stands, is first put
   * back by hand to the stop mark of the block it is believed in.
   */
  #sayWhere(train: number): void {
    const { simulated, state } = this.rehearsal;
    const truth = simulated.truth.train(train);
    if (truth === null) {
      this.#give({ kind: 'confirm-absent', train });
      return;
    }
    const believed = state.trains[train]!;
    if (standsFoul(this.rehearsal, train)) {
      this.#putBack(train);
      return;
    }
    if (standsOnItsWay(this.rehearsal, train) && !isTurnedRound(this.rehearsal, train)) {
      const last = believed.path.findLast(({ heading }) => heading >= 0)!;
      this.#give({ kind: 'confirm-place', train, heading: last.heading });
      return;
    }
    const heading = this.#headingOf(truth);
    if (heading !== null) {
      const leading = believed.frontLeads ? heading : opposite(heading);
      const refused = this.#give({ kind: 'confirm-place', train, heading: leading });
      if (refused === null) return;
    }
    this.#putBack(train);
  }

  /** Trains that stand where nobody believes them, or foul, are put back by hand. Returns whether any was. */
  #putBackStrays(): boolean {
    const { state, simulated } = this.rehearsal;
    const strays = state.trains.flatMap(({ activity }, train) => {
      const truth = simulated.truth.train(train);
      if (activity.kind !== 'standing' || truth === null || truth.speed !== 0) return [];
      const isStray = !standsOnItsWay(this.rehearsal, train) || standsFoul(this.rehearsal, train);
      return isStray ? [train] : [];
    });
    return strays.map((train) => this.#putBack(train)).includes(true);
  }

  /** Puts a train back by hand where it is believed, if nothing else stands there. Returns whether it was. */
  #putBack(train: number): boolean {
    const believed = this.rehearsal.state.trains[train]!;
    const home = believed.path.findLast(({ heading }) => heading >= 0);
    if (home === undefined) return false;
    const to = believed.frontLeads ? home.heading : opposite(home.heading);
    if (this.#isTaken(home.element, train)) return false;
    this.rehearsal.simulated.injectFault({ kind: 'hand-moved', at: this.rehearsal.now, train, to });
    return true;
  }

  /** Whether anything stands in the block, but for one train. */
  #isTaken(block: number, except = -1): boolean {
    return this.rehearsal.simulated.truth
      .trains()
      .some(
        ({ train, stretches }) =>
          train !== except &&
          stretches.some(({ element, from, to }) => element === block && to > from),
      );
  }

  /** A section nobody accounts for: clear if nothing is in its block, otherwise wait until its train is placed. */
  #sayClear(section: number): void {
    const { simulated, world } = this.rehearsal;
    if (simulated.truth.section(section).occupied) return;
    for (const block of world.layout.sections[section]!.elements) {
      if (this.#isTaken(block)) continue;
      if (this.#give({ kind: 'confirm-clear', block }) === null) return;
    }
  }

  /** Lifts off cars that lie about. */
  #liftLost(): void {
    const { simulated, now } = this.rehearsal;
    for (const { train, leftBehind } of simulated.truth.trains()) {
      if (leftBehind) simulated.injectFault({ kind: 'cars-lifted', at: now, train });
    }
  }

  /**
   * Takes off what hangs on another train, and with the next look sets it back where it is believed, if nothing else stands there.
   * Returns whether anything was done.
   */
  #takeApart(): boolean {
    const { simulated, now } = this.rehearsal;
    const hung = simulated.truth.trains().flatMap(({ carries }) => carries ?? []);
    for (const train of hung)
      simulated.injectFault({ kind: 'hand-moved', at: now, train, to: null });
    if (hung.length === 0) return this.#beside.splice(0).some((train) => this.#putBack(train));
    this.#beside.push(...hung);
    return true;
  }

  /** Where a train has passed and nothing lies, the detector is what is wrong. */
  #clearBehind(): void {
    const { state } = this.rehearsal;
    state.sections.forEach((_, section) => {
      if (this.#isAlarmedBehind(section)) this.#sayClear(section);
    });
  }

  #isAlarmedBehind(section: number): boolean {
    const { world, state } = this.rehearsal;
    const key = `behind:${world.layout.sections[section]!.id}`;
    return state.alarms.some((alarm) => alarm.clearedAt === null && alarm.key === key);
  }

  /** The block and direction of a train that stands wholly in one block, clear of what is joined at both its ends. */
  #headingOf(truth: TruthTrain): number | null {
    const { layout } = this.rehearsal.world;
    const [only, ...more] = truth.stretches.filter(({ from, to }) => to > from);
    if (only === undefined || more.length > 0) return null;
    const { kind, length, fouling } = layout.elements[only.element]!;
    if (kind !== 'block') return null;
    const [atB, atA] = fouling;
    if (only.from < atA || only.to > length - atB) return null;
    const towards = truth.towards === 'b' ? 'b' : 'a';
    return headingOf(only.element, towards);
  }

  #anythingMoves(): boolean {
    const { kind } = this.rehearsal.state.session.phase;
    if (kind === 'running' || kind === 'ending') return false;
    return this.rehearsal.simulated.truth.trains().some(({ speed }) => speed !== 0);
  }

  /** Gives a command; returns why it was refused, or null. */
  #give(command: Command): string | null {
    return this.rehearsal.command(NAME, command);
  }
}
