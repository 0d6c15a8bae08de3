import type { EngineState, Input, World } from '@blockbell/railway';

/** How a locomotive's decoder answered; a visit is one coming of its train into a section that reads decoders. */
export interface LocomotiveQuality {
  visits: number;
  answered: number;
}

/** How a section's detector did. */
export interface DetectorQuality {
  /** Times that it became occupied, without those a moment after it had read free. */
  occupied: number;
  /** Times that it read free and occupied again within {@link FLICKER}, the same train being there. */
  flickers: number;
  /** Times that it became occupied where no train was expected. */
  strange: number;
  /** Visits of trains with an answering decoder, where it reads decoders, and those in which it read one of them. */
  visits: number;
  read: number;
  /** Reports of a decoder that is not of the train that was there. */
  misread: number;
}

interface Visit {
  readonly train: number;
  readonly answered: Set<string>;
}

/** Shorter than that, ms, a section that reads free and occupied again has lost contact; common practice, no source. */
const FLICKER = 3000;

/** Counts, input by input, how well locomotives and detectors tell who is where. */
export class IdentityQuality {
  /** By the address of a locomotive, `short:3`. */
  readonly locomotives = new Map<string, LocomotiveQuality>();
  /** By section. */
  readonly detectors: readonly DetectorQuality[];
  /** By section: who came into it last. */
  readonly #visits: (Visit | null)[];
  /** By section: when it last read free, ms. */
  readonly #freeSince: (number | null)[];

  constructor(private readonly world: World) {
    for (const { address } of world.stock.file.locomotives) {
      this.locomotives.set(keyOf(address), { visits: 0, answered: 0 });
    }
    const { sections } = world.layout;
    this.detectors = sections.map(() => ({
      occupied: 0,
      flickers: 0,
      strange: 0,
      visits: 0,
      read: 0,
      misread: 0,
    }));
    this.#visits = sections.map(() => null);
    this.#freeSince = sections.map(() => null);
  }

  /** After an input was fed; `state`: what the engine made of it. */
  see(input: Input, state: EngineState): void {
    if (input.kind !== 'device' || !state.session.begun) return;
    const { event } = input;
    if (event.kind === 'report') {
      for (const decoder of event.decoders) this.#report(event.section, keyOf(decoder));
    } else if (event.kind === 'section') {
      if (event.occupied) this.#occupied(event.section, input.at, state);
      else this.#freeSince[event.section] = input.at;
    }
  }

  #occupied(section: number, at: number, { sections, trains }: EngineState): void {
    const detector = this.detectors[section]!;
    const train = sections[section]!.claim;
    const freeSince = this.#freeSince[section] ?? null;
    const last = this.#visits[section] ?? null;
    this.#freeSince[section] = null;
    if (freeSince !== null && at - freeSince <= FLICKER && last?.train === train) {
      detector.flickers++;
      return;
    }
    detector.occupied++;
    if (train < 0 || trains[train] === undefined) {
      detector.strange++;
      this.#visits[section] = null;
      return;
    }
    this.#visits[section] = { train, answered: new Set() };
    const { locomotives, answers } = this.world.stock.trains[train]!;
    if (!this.world.layout.sections[section]!.detector.reportsIdentity) return;
    if (answers) detector.visits++;
    for (const { file } of locomotives) this.locomotives.get(keyOf(file.address))!.visits++;
  }

  #report(section: number, address: string): void {
    const visit = this.#visits[section] ?? null;
    if (visit === null) return;
    const train = this.world.stock.trains[visit.train]!;
    const detector = this.detectors[section]!;
    if (!train.addresses.includes(address)) {
      detector.misread++;
      return;
    }
    if (visit.answered.has(address)) return;
    if (visit.answered.size === 0) detector.read++;
    visit.answered.add(address);
    // The address of a consist answers for all of its locomotives.
    const own = train.locomotives.map(({ file }) => keyOf(file.address));
    for (const each of own.includes(address) ? [address] : own) {
      this.locomotives.get(each)!.answered++;
    }
  }
}

const keyOf = ({ kind, number }: { readonly kind: string; readonly number: number }): string =>
  `${kind}:${number}`;
