import { callBefore, callFrom, dweltAt, fastNow } from '@blockbell/railway';
import type { Rehearsal } from '@blockbell/rehearsal';
import type { LateDeparture } from './draw.js';

/** Keeps services from leaving until they are ready, as a crew would that comes late: by holding the train and letting it go. */
export class LateDepartures {
  readonly #toCome: Map<string, LateDeparture>;
  /** By train held: when it is let go, physical ms; null: its time to leave has not come yet. */
  readonly #held = new Map<number, { readonly by: number; until: number | null }>();

  constructor(
    private readonly rehearsal: Rehearsal,
    departures: readonly LateDeparture[],
  ) {
    this.#toCome = new Map(departures.map((it) => [key(it), it]));
  }

  look(): void {
    const { rehearsal } = this;
    rehearsal.state.trains.forEach(({ arrivedAt, leg }, train) => {
      const held = this.#held.get(train);
      if (held !== undefined) return this.#maybeLetGo(train, held);
      const from = arrivedAt === null ? null : callFrom(rehearsal.world.graphs[train]!, leg);
      const late = from === null ? undefined : this.#toCome.get(key(from));
      if (late === undefined || !this.#hold(train, true)) return;
      this.#toCome.delete(key(late));
      this.#held.set(train, { by: late.by, until: null });
    });
  }

  #maybeLetGo(train: number, held: { readonly by: number; until: number | null }): void {
    const { now } = this.rehearsal;
    if (held.until === null && this.#mightLeave(train)) held.until = now + held.by;
    if (held.until === null || now < held.until) return;
    if (this.#hold(train, false)) this.#held.delete(train);
  }

  /** Whether its booked time has come and it has dwelt. */
  #mightLeave(train: number): boolean {
    const { world, state, now } = this.rehearsal;
    const { clock } = state.session;
    const call = callBefore(world, train, state.trains[train]!.leg);
    if (call === null || state.trains[train]!.arrivedAt === null) return true;
    return (
      fastNow(clock, now) >= (call.depart ?? 0) &&
      now >= dweltAt(clock, call, state.trains[train]!, now)
    );
  }

  #hold(train: number, hold: boolean): boolean {
    return this.rehearsal.command('late crew', { kind: 'hold-train', train, hold }) === null;
  }
}

const key = ({ service, call }: { readonly service: number; readonly call: number }): string =>
  `${service} ${call}`;
