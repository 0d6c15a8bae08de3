import type { DisturbancesFile } from '@blockbell/contract';
import type { Input, StepResult } from '@blockbell/railway';
import type { Rehearsal } from '@blockbell/rehearsal';
import { forkStream, type RandomStream } from '@blockbell/simulation';
import { drawFrom, fraction, isHit } from './distributions.js';
import { lasting, type TrainFailure } from './draw.js';

/** A lost contact begins within this time after the section became occupied, physical ms. */
const SOON = 3000;

/** Has trains fail on their way and contacts get lost as a session runs. */
export class Failures {
  readonly #rehearsal: Rehearsal;
  readonly #lost: DisturbancesFile['lostContacts'];
  /** By service; those that have happened are taken out. */
  readonly #toCome: Map<number, TrainFailure>;
  /** By section. */
  readonly #chance: readonly RandomStream[];

  constructor(
    rehearsal: Rehearsal,
    failures: readonly TrainFailure[],
    lost: DisturbancesFile['lostContacts'],
    seed: number,
  ) {
    this.#rehearsal = rehearsal;
    this.#lost = lost;
    this.#toCome = new Map(failures.map((it) => [it.service, it]));
    this.#chance = rehearsal.world.layout.sections.map(({ id }) =>
      forkStream(seed, `contact of ${id}`),
    );
  }

  /** From now on they happen. */
  watch(): void {
    this.#rehearsal.observe((_, input, result) => this.#see(input, result));
  }

  #see(input: Input, { changes }: StepResult): void {
    for (const train of changes.trains) this.#seeTrain(train);
    if (input.kind === 'device' && input.event.kind === 'section' && input.event.occupied) {
      this.#seeOccupied(input.event.section);
    }
  }

  #seeTrain(train: number): void {
    const { state, now, simulated } = this.#rehearsal;
    const last = state.trains[train]!.calls.at(-1);
    if (last === undefined || last.call !== 0 || last.departed === null) return;
    const failure = this.#toCome.get(last.service);
    if (failure === undefined) return;
    this.#toCome.delete(last.service);
    const { after, lasts } = failure;
    simulated.injectFault({ kind: 'stall', at: now + after, duration: lasts, train });
  }

  #seeOccupied(section: number): void {
    const lost = this.#lost;
    if (lost === undefined) return;
    const chance = this.#chance[section]!;
    if (!isHit(chance, lost.share)) return;
    const { now, simulated } = this.#rehearsal;
    const at = now + 1 + Math.floor(fraction(chance) * SOON);
    const duration = lasting(drawFrom(chance, lost.lasts));
    simulated.injectFault({ kind: 'dropout', at, duration, section });
  }
}
