import { fastNow, type EngineState, type World } from '@blockbell/railway';
import type { Rehearsal } from '@blockbell/rehearsal';

/** A wait that costs time from `from` to `to`, fast ms. */
interface Interval {
  readonly key: string;
  readonly from: number;
  readonly to: number;
}

/** A booked moment of a service and when it came, fast ms. */
interface Moment {
  readonly service: number;
  readonly call: number;
  readonly arrival: boolean;
  readonly booked: number;
  readonly fast: number;
}

/** What became of the time until an arrival: as the engine says, or as found anew. */
export interface Account {
  readonly train: number;
  readonly service: number;
  readonly call: number;
  readonly late: number;
  readonly own: number;
  readonly recovered: number;
  /** By `train place reason`. */
  readonly lost: Readonly<Record<string, number>>;
}

/** Writes down while a session runs from when to when trains waited, for its delays to be worked out once more at its end. */
export class WaitWatch {
  readonly #ended: Interval[][];
  /** `call`: when the train arrived where it stands; a wait is looked at anew when it has come to a call. */
  readonly #open: ({ key: string; from: number; call: number | null } | null)[];

  constructor(rehearsal: Rehearsal) {
    this.#ended = rehearsal.state.trains.map(() => []);
    this.#open = rehearsal.state.trains.map(() => null);
    rehearsal.observe(({ state }, _, { changes }) => {
      for (const train of changes.trains) this.#look(state, train);
    });
  }

  #look({ trains, session, now }: EngineState, train: number): void {
    const { wait, delay, arrivedAt: call } = trains[train]!;
    const key =
      delay.open === null ? null : `${delay.open.train} ${delay.open.place} ${wait?.kind}`;
    const open = this.#open[train] ?? null;
    if (key === (open?.key ?? null) && (open === null || open.call === call)) return;
    const fast = Math.round(fastNow(session.clock, now));
    if (open !== null && open.from < fast) this.#ended[train]!.push({ ...open, to: fast });
    const from = Math.max(fast, delay.open?.from ?? fast);
    this.#open[train] = key === null ? null : { key, from, call };
  }

  /** Time lost between two moments, by cause. */
  lost(train: number, from: number, to: number): Map<string, number> {
    const found = new Map<string, number>();
    const open = this.#open[train] ?? null;
    const all = [...this.#ended[train]!, ...(open === null ? [] : [{ ...open, to: Infinity }])];
    for (const wait of all) {
      const time = Math.min(wait.to, to) - Math.max(wait.from, from);
      if (time > 0) found.set(wait.key, (found.get(wait.key) ?? 0) + time);
    }
    return found;
  }
}

/** Every arrival with a booked time, its delay worked out from the times of all calls and from the waits that were seen. */
export function rebuiltAccounts(
  { timetable }: World,
  state: EngineState,
  watch: WaitWatch,
): Account[] {
  return state.trains.flatMap(({ calls }, train) => {
    const accounts: Account[] = [];
    let before = -Infinity;
    for (const service of new Set(calls.map((it) => it.service))) {
      const moments = calls
        .filter((it) => it.service === service)
        .flatMap(({ call, arrived, departed }): Moment[] => {
          const { arrive, depart } = timetable.services[service]!.calls[call]!;
          return [
            ...momentOf(service, call, true, arrive, arrived),
            ...momentOf(service, call, false, depart, departed),
          ];
        });
      const entry = calls.find((it) => it.service === service && it.delay !== null)?.delay?.entry;
      let [late, own, recovered] = [entry ?? 0, 0, 0];
      const lost = new Map<string, number>();
      for (const { call, arrival, booked, fast } of moments) {
        let more = fast - booked - late;
        for (const [key, time] of watch.lost(train, before, fast)) {
          lost.set(key, (lost.get(key) ?? 0) + time);
          more -= time;
        }
        // What only brings a train that was early back to its booked times is not lost, but made up less.
        const used = Math.max(0, Math.min(more, -late));
        own += Math.max(0, more) - used;
        recovered += Math.max(0, -more) - used;
        [late, before] = [fast - booked, fast];
        if (arrival)
          accounts.push({
            train,
            service,
            call,
            late,
            own,
            recovered,
            lost: Object.fromEntries(lost),
          });
      }
    }
    return accounts;
  });
}

function momentOf(
  service: number,
  call: number,
  arrival: boolean,
  booked: number | null,
  came: number | null,
): Moment[] {
  return booked === null || came === null
    ? []
    : [{ service, call, arrival, booked, fast: Math.round(came) }];
}

/** The same as the engine has kept it. */
export function keptAccounts({ timetable }: World, { trains }: EngineState): Account[] {
  return trains.flatMap(({ calls }, train) =>
    calls.flatMap(({ service, call, arrived, delay }): Account[] => {
      const { arrive } = timetable.services[service]!.calls[call]!;
      if (arrived === null || arrive === null || delay === null) return [];
      const { own, recovered, lost } = delay;
      const late = Math.round(arrived) - arrive;
      const byCause = lost.map((it) => [`${it.train} ${it.place} ${it.why}`, it.time] as const);
      return [{ train, service, call, late, own, recovered, lost: Object.fromEntries(byCause) }];
    }),
  );
}
