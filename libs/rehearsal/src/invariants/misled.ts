import { furthestHead, headingOf, type Layout } from '@blockbell/railway';
import type { TruthTrain } from '@blockbell/simulation';
import type { Rehearsal } from '../rehearsal.js';
import { headOnPath, tailOnPath } from './head-on-path.js';
import { lostContact } from './lost-contact.js';

/** What rounding of positions may add up to, mm. */
const ROUNDING = 1;

/**
 * Trains that are not where detection says, because contact was lost under them for longer than the hold-off bridges: from the
 * moment in which such a loss makes the engine's tail or head of a train false, until both are right again.
 */
export class Misled {
  readonly #rehearsal: Rehearsal;
  readonly #trains = new Set<number>();

  constructor(rehearsal: Rehearsal) {
    this.#rehearsal = rehearsal;
  }

  has(train: number): boolean {
    return this.#trains.has(train);
  }

  /** After a step: looks at the trains it changed. */
  follow(changed: Iterable<number>): void {
    for (const train of changed) {
      if (this.#isRight(train)) this.#trains.delete(train);
      else if (this.#hasLostContact(train)) this.#trains.add(train);
    }
  }

  /** Whether a train really stands between the tail and the furthest head that the engine reckons with. */
  #isRight(train: number): boolean {
    const { simulated, state, world, now } = this.#rehearsal;
    const truth = simulated.truth.train(train);
    const believed = state.trains[train]!;
    if (truth === null || believed.path.length === 0) return true;
    const head = headOnPath(world.layout, believed, truth);
    const tail = tailOnPath(world.layout, believed, truth);
    if (head === null || tail === null) return false;
    const furthest = furthestHead(world.models[train]!, believed, now);
    return tail >= believed.tail - ROUNDING && head <= furthest + ROUNDING;
  }

  /** Whether contact is lost, until now or just before, in a section that a train really stands on. */
  #hasLostContact(train: number): boolean {
    const { simulated, world } = this.#rehearsal;
    const { sections } = world.layout;
    const standsOn = simulated.truth.train(train)?.stretches ?? [];
    return standsOn
      .flatMap((stretch) => sectionsUnder(world.layout, stretch))
      .some((section) => lostContact(sections[section]!, simulated.truth));
  }
}

/** The sections that see a part of an element on which a train stands. */
function sectionsUnder(
  { elements, blockSteps }: Layout,
  { element, from, to }: TruthTrain['stretches'][number],
): readonly number[] {
  const step = blockSteps[headingOf(element, 'b')] ?? null;
  if (step === null) return elements[element]!.sections;
  let start = 0;
  return step.pieces.flatMap(({ section, length }) => {
    const isUnder = from < start + length && to > start;
    start += length;
    return isUnder && section >= 0 ? [section] : [];
  });
}
