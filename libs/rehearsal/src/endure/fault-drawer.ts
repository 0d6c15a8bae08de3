import { stepOf, type Effect, type Input, type StepResult } from '@blockbell/railway';
import {
  forkStream,
  nextBetween,
  type Fault,
  type FaultKind,
  type RandomStream,
} from '@blockbell/simulation';
import type { Rehearsal } from '../rehearsal.js';
import type { FaultRates } from './fault-rates.js';
import { drawMishaps } from './mishaps.js';

/** After an edge or a departure, physical ms, within which the fault drawn for it begins. */
const SOON = 3000;
const UNDER_WAY = 30_000;

/** A drive that ignores its next command: the number of its fault and its place in the script. */
interface Stuck {
  readonly fault: number;
  readonly place: number;
  /** When it is mended, physical ms; null before it has ignored a command. */
  mendAt: number | null;
}

/**
 * Draws faults at given rates where they hurt: lost contacts under trains, lost reports and misreadings on the way ahead of
 * them, drives as they are about to be thrown, trains that have just set off. It chooses by seeded chance alone, so that
 * the same session has the same faults, and writes them down as they came, to be scripted again.
 */
export class FaultDrawer {
  /** The faults that have been drawn, with the times at which they began and ended. */
  readonly script: Fault[] = [];
  edges = 0;
  throws = 0;
  readonly #rehearsal: Rehearsal;
  readonly #rates: FaultRates;
  readonly #chance: Readonly<Record<'edges' | 'drives' | 'trains', RandomStream>>;
  /** By element. */
  readonly #stuck = new Map<number, Stuck>();
  /** By train: the service it set off for last. */
  readonly #serving = new Map<number, number>();

  constructor(rehearsal: Rehearsal, rates: FaultRates, seed: number) {
    this.#rehearsal = rehearsal;
    this.#rates = rates;
    this.#chance = {
      edges: forkStream(seed, 'faults of edges'),
      drives: forkStream(seed, 'faults of drives'),
      trains: forkStream(seed, 'faults of trains'),
    };
    const chance = forkStream(seed, 'mishaps');
    const { start, end, ratio } = rehearsal.world.timetable;
    const length = Math.round((end - start) / ratio);
    const count = nextBetween(chance, 0, rates.mishaps);
    const mishaps = drawMishaps(rehearsal.world, count, rates.lawless, length, chance);
    for (const fault of mishaps) this.#inject(fault);
    rehearsal.observe((_, input, result) => this.#see(input, result));
  }

  #see(input: Input, { effects, changes }: StepResult): void {
    const { session } = this.#rehearsal.state;
    for (const effect of effects) this.#seeEffect(effect);
    if (!session.begun) return;
    if (input.kind === 'device' && input.event.kind === 'section') this.#edge(input.event.section);
    for (const train of changes.trains) this.#seeTrain(train);
  }

  #edge(section: number): void {
    const { dropouts, longDropouts, lostReports, misreads } = this.#rates;
    const chance = this.#chance.edges;
    this.edges++;
    if (happens(chance, dropouts, 1000)) this.#loseContact(section, [50, 800]);
    if (happens(chance, longDropouts, 1000)) this.#loseContact(section, [1000, 8000]);
    if (happens(chance, lostReports, 1000)) {
      this.#onWay(section, (reading) => ({
        kind: 'lost',
        at: this.#next(),
        section: reading,
        messages: 'reports',
        permille: 1000,
        duration: nextBetween(chance, 5_000, 20_000),
      }));
    }
    if (happens(chance, misreads, 1000)) {
      const { locomotives } = this.#rehearsal.world.stock.file;
      this.#onWay(section, (reading) => ({
        kind: 'misread',
        at: this.#soon(),
        section: reading,
        as: locomotives[nextBetween(chance, 0, locomotives.length - 1)]!.address,
        duration: nextBetween(chance, 1_000, 20_000),
      }));
    }
  }

  /** In the section of the edge, in one next to it on the way, or wherever something stands. */
  #loseContact(section: number, [least, most]: readonly [number, number]): void {
    const chance = this.#chance.edges;
    const { truth } = this.#rehearsal.simulated;
    const isOccupied = (each: number): boolean => truth.section(each).occupied;
    const near = this.#sectionsOfWay(section).filter(
      (each) => each === section || isOccupied(each),
    );
    const anywhere = this.#rehearsal.state.sections.flatMap((_, each) =>
      isOccupied(each) ? [each] : [],
    );
    const from = near.length > 0 && nextBetween(chance, 0, 3) > 0 ? near : anywhere;
    if (from.length === 0) return;
    this.#inject({
      kind: 'dropout',
      at: this.#soon(),
      section: from[nextBetween(chance, 0, from.length - 1)]!,
      duration: nextBetween(chance, least, most),
    });
  }

  /** A fault of reports, in a section of the train's way that can read decoders, or in any other that can. */
  #onWay(section: number, fault: (reading: number) => Fault): void {
    const { sections } = this.#rehearsal.world.layout;
    const reads = (each: number): boolean => sections[each]!.detector.reportsIdentity;
    const near = this.#sectionsOfWay(section).filter(reads);
    const from = near.length > 0 ? near : sections.map(({ index }) => index).filter(reads);
    if (from.length === 0) return;
    this.#inject(fault(from[nextBetween(this.#chance.edges, 0, from.length - 1)]!));
  }

  /** All sections on the way that is held for the train of a section; empty where it is nobody's. */
  #sectionsOfWay(section: number): number[] {
    const { state, world } = this.#rehearsal;
    const train = state.trains[state.sections[section]!.claim];
    const pieces = (train?.path ?? []).flatMap((item) => stepOf(world.layout, item).pieces);
    return [...new Set(pieces.map((piece) => piece.section))].filter((each) => each >= 0);
  }

  #seeEffect(effect: Effect): void {
    if (effect.kind !== 'device' || effect.command.kind !== 'set-drive') return;
    const { element, position } = effect.command;
    this.#ignored(element);
    if (this.#rehearsal.simulated.truth.drive(element)?.moving !== position) return;
    this.throws++;
    const isStuck = this.#stuck.has(element);
    if (isStuck || !happens(this.#chance.drives, this.#rates.stuckDrives, 300)) return;
    const place = this.script.length;
    const fault = this.#inject({ kind: 'stuck-drive', at: this.#next(), element, duration: null });
    this.#stuck.set(element, { fault, place, mendAt: null });
  }

  /** A stuck drive has ignored its command; it is mended after a while, and may stick again then. */
  #ignored(element: number): void {
    const stuck = this.#stuck.get(element);
    const { now, simulated } = this.#rehearsal;
    if (stuck === undefined) return;
    if (stuck.mendAt !== null) {
      if (stuck.mendAt <= now) this.#stuck.delete(element);
      return;
    }
    stuck.mendAt = now + nextBetween(this.#chance.drives, 20_000, 120_000);
    simulated.mend(stuck.fault, stuck.mendAt);
    const { at } = this.script[stuck.place]!;
    this.script[stuck.place] = {
      kind: 'stuck-drive',
      at,
      element,
      duration: stuck.mendAt - at,
    };
  }

  #seeTrain(train: number): void {
    const last = this.#rehearsal.state.trains[train]!.calls.at(-1);
    if (last === undefined || last.call !== 0 || last.departed === null) return;
    if (this.#serving.get(train) === last.service) return;
    this.#serving.set(train, last.service);
    const chance = this.#chance.trains;
    if (!happens(chance, this.#rates.stalls, 25)) return;
    this.#inject({
      kind: 'stall',
      at: this.#rehearsal.now + nextBetween(chance, 1, UNDER_WAY),
      train,
      duration: nextBetween(chance, 10_000, 60_000),
    });
  }

  /** What happens now has happened: a fault comes a moment later, scripted or not. */
  #next = (): number => this.#rehearsal.now + 1;

  #soon = (): number => this.#rehearsal.now + nextBetween(this.#chance.edges, 1, SOON);

  #inject(fault: Fault): number {
    this.script.push(fault);
    return this.#rehearsal.simulated.injectFault(fault);
  }
}

/** Faults by their kind, in the order of the alphabet. */
export function countKinds(faults: readonly Fault[]): Partial<Record<FaultKind, number>> {
  const counts: Partial<Record<FaultKind, number>> = {};
  for (const kind of faults.map((fault) => fault.kind).sort())
    counts[kind] = (counts[kind] ?? 0) + 1;
  return counts;
}

const happens = (chance: RandomStream, rate: number, of: number): boolean =>
  rate > 0 && nextBetween(chance, 1, of) <= rate;
