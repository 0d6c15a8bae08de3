import type { EngineState, Input, World } from '@blockbell/railway';

/**
 * How a locomotive's decoder answered; a visit is one coming of its train into a section that reads decoders, the locomotive first.
 * One that comes behind its cars may never get there: its visit counts only if it is read.
 */
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
  /** Visits of trains with an answering decoder, where it reads decoders, and those in which it read one of them; as above. */
  visits: number;
  read: number;
  /** Reports of a decoder that is not of the train that was there. */
  misread: number;
}

interface Visit {
  readonly train: number;
  readonly answered: Set<string>;
  /** Whether the visit has been counted of the detector. */
  counted: boolean;
  /** Addresses of the locomotives of which it has been counted. */
  readonly of: Set<string>;
}

/** A report of a section that read free. */
interface Stray {
  readonly address: string;
  readonly at: number;
  /** Whether it has been counted as misread. */
  readonly misread: boolean;
}

/** Shorter than that, ms, a section that reads free and occupied again has lost contact; common practice, no source. */
const FLICKER = 3000;
/** So long before a section is told to be occupied, ms, a report of who comes into it may be heard; common practice, no source. */
const EARLY = 1000;

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
  /** By section: what was reported of it since it last read free. */
  readonly #strays: Stray[][];

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
    this.#strays = sections.map(() => []);
  }

  /** After an input was fed; `state`: what the engine made of it. */
  see(input: Input, state: EngineState): void {
    if (input.kind !== 'device' || !state.session.begun) return;
    const { event } = input;
    if (event.kind === 'report') {
      const { belief } = state.sections[event.section]!;
      for (const decoder of event.decoders) {
        const address = keyOf(decoder);
        if (belief === 'clear') this.#strayReport(event.section, address, input.at);
        else this.#report(event.section, address);
      }
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
    const early = this.#strays[section]!.filter((stray) => at - stray.at <= EARLY);
    this.#freeSince[section] = null;
    this.#strays[section] = [];
    if (freeSince !== null && at - freeSince <= FLICKER && last?.train === train) {
      detector.flickers++;
      return;
    }
    detector.occupied++;
    const there = trains[train];
    if (there === undefined) {
      detector.strange++;
      this.#visits[section] = null;
      return;
    }
    const visit: Visit = { train, answered: new Set(), counted: false, of: new Set() };
    this.#visits[section] = visit;
    const { length, locomotives } = this.world.stock.trains[train]!;
    for (const { file, extent } of locomotives) {
      if (there.frontLeads ? extent.from === 0 : extent.to === length)
        this.#count(section, visit, keyOf(file.address));
    }
    for (const { address, misread } of early) {
      if (misread) detector.misread--;
      this.#report(section, address);
    }
  }

  /** Counts a visit of the detector, and of a locomotive, unless that has been done. */
  #count(section: number, visit: Visit, address: string): void {
    const { detector } = this.world.layout.sections[section]!;
    if (!detector.reportsIdentity) return;
    if (!visit.counted && this.world.stock.trains[visit.train]!.answers)
      this.detectors[section]!.visits++;
    visit.counted = true;
    if (!visit.of.has(address)) this.locomotives.get(address)!.visits++;
    visit.of.add(address);
  }

  /** A report of a section that reads free: late of who was there, early of who comes, or else misread. */
  #strayReport(section: number, address: string, at: number): void {
    const visit = this.#visits[section] ?? null;
    const isLate =
      visit !== null &&
      this.world.stock.trains[visit.train]!.addresses.includes(address) &&
      !visit.answered.has(address);
    if (isLate) {
      this.#report(section, address);
      return;
    }
    const misread =
      visit !== null && !this.world.stock.trains[visit.train]!.addresses.includes(address);
    if (misread) this.detectors[section]!.misread++;
    this.#strays[section]!.push({ address, at, misread });
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
    // The address of a consist answers for all of its locomotives.
    const own = train.locomotives.map(({ file }) => keyOf(file.address));
    const these = own.includes(address) ? [address] : own;
    for (const each of these) this.#count(section, visit, each);
    if (visit.answered.size === 0) detector.read++;
    visit.answered.add(address);
    for (const each of these) this.locomotives.get(each)!.answered++;
  }
}

const keyOf = ({ kind, number }: { readonly kind: string; readonly number: number }): string =>
  `${kind}:${number}`;
