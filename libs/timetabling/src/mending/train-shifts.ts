import { connectionResource, TICK, type Awaited, type Draft } from '@blockbell/planning';
import type { World } from '@blockbell/railway';
import type { Trip } from '../booking/trips.js';
import type { TrainCourse } from '../conflicts/choose-ways.js';
import type { Way } from '../ways/way.js';
import type { ShiftBounds } from './shift-problem.js';

const MINUTE = 60_000;

/** From this moment of an operation on, ticks, a time is one more minute late. */
interface LateMinute {
  readonly operation: number;
  readonly threshold: number;
}

type Open = Omit<Draft, 'successors'> & { readonly successors: number[] };

/**
 * All that a train may do in a timetable whose times are moved, as operations: each trip over any of its ways, no sooner than it
 * can; times in ticks from the session's start, rounded so that no timetable is left out.
 */
export class TrainShifts {
  readonly drafts: Open[] = [];
  readonly minutes: LateMinute[] = [];
  readonly awaited: Awaited[] = [];
  /** By operation: when it starts at the latest. */
  readonly latest = new Map<number, number>();
  /** By trip: its operations before the arrival, and the ticks kept for noting that at most. */
  readonly #under: number[][] = [];
  readonly #noting: number[] = [];

  /** @param steps whole minutes of lateness of one time that are told apart; what is later costs no more */
  constructor(
    private readonly world: World,
    { trips, ways }: TrainCourse,
    private readonly bounds: ShiftBounds,
    private readonly steps: number,
  ) {
    const usable = leadingOn(ways);
    const [first] = [...usable[0]!.values()];
    const start = this.#push(0, 0, first![0]!.before);
    /** By node where the train may stand: the operations that bring it there. */
    let reached = new Map<number, number[]>([[first![0]!.start, [start]]]);
    trips.forEach((trip, index) => {
      const next = new Map<number, number[]>();
      this.#under.push([]);
      this.#noting.push(0);
      for (const [node, before] of reached)
        for (const way of usable[index]!.get(node) ?? []) {
          const arrival = this.#run(trip, way, before);
          next.set(way.end, [...(next.get(way.end) ?? []), arrival]);
        }
      reached = next;
    });
    const { timetable } = world;
    const end = this.#push(this.#up(timetable.end + bounds.later), 0, []);
    for (const before of reached.values())
      for (const at of before) this.drafts[at]!.successors.push(end);
    this.#awaitConnections(trips);
  }

  /** A trip over a way; returns the operation that starts with its arrival. */
  #run(trip: Trip, way: Way, before: readonly number[]): number {
    const { ratio } = this.world.timetable;
    let last = before;
    way.segments.forEach(({ from, to, holds }, i) => {
      const isFirst = i === 0 && trip.depart !== null;
      const lb = isFirst ? Math.max(0, this.#down(trip.depart! - this.bounds.earlier)) : 0;
      const awaits = i === 0 ? this.#awaits(trip) : [];
      const at = this.#push(lb, Math.floor((to - from) / TICK), [...holds, ...awaits]);
      for (const each of last) this.drafts[each]!.successors.push(at);
      this.#under.at(-1)!.push(at);
      last = [at];
      if (!isFirst) return;
      this.latest.set(at, this.#up(trip.depart! + this.bounds.later));
      this.#cost(at, trip.depart!);
    });
    // A train is said to have arrived a little after it stands.
    const noting = Math.max(0, (way.arrived - way.run) * ratio);
    this.#noting.push(Math.max(this.#noting.pop()!, Math.ceil(noting / ratio / TICK)));
    const stay = Math.max(0, Math.floor((trip.stay - noting) / ratio / TICK));
    const arrival = this.#push(0, stay, way.after);
    for (const each of last) this.drafts[each]!.successors.push(arrival);
    if (trip.arrive !== null) this.#cost(arrival, trip.arrive + noting);
    return arrival;
  }

  #cost(operation: number, booked: number): void {
    for (let minute = 0; minute < this.steps; minute++)
      this.minutes.push({ operation, threshold: this.#up(booked + minute * MINUTE) + 1 });
  }

  #awaits({ from }: Trip): readonly number[] {
    if (from === null) return [];
    const { timetable } = this.world;
    const { station } = timetable.services[from.service]!.calls[from.call]!;
    return timetable.connections.flatMap((connection, index) =>
      connection.to === from.service && connection.station === station
        ? [connectionResource(index)]
        : [],
    );
  }

  #awaitConnections(trips: readonly Trip[]): void {
    const { timetable } = this.world;
    timetable.connections.forEach(({ from, station, transfer }, connection) => {
      const feeder = trips.findIndex(
        ({ to }) =>
          to?.service === from &&
          timetable.services[to.service]!.calls[to.call]!.station === station,
      );
      if (feeder < 0) return;
      const under = this.#under[feeder]!;
      const before = Array.from({ length: Math.min(...under) }, (_, at) => at);
      const release = Math.floor(transfer / timetable.ratio / TICK) - this.#noting[feeder]!;
      this.awaited.push({
        connection,
        operations: [...before, ...under],
        release: Math.max(0, release),
      });
    });
  }

  #push(startLb: number, minDuration: number, holds: readonly number[]): number {
    const meaning = { kind: 'begin' } as const;
    return this.drafts.push({ startLb, minDuration, holds, meaning, successors: [] }) - 1;
  }

  readonly #down = (fast: number): number => Math.floor(this.#ticks(fast));
  readonly #up = (fast: number): number => Math.ceil(this.#ticks(fast));

  #ticks(fast: number): number {
    const { start, ratio } = this.world.timetable;
    return (fast - start) / ratio / TICK;
  }
}

/** The ways after which the train can go on to the end of its work. */
function leadingOn(ways: TrainCourse['ways']): Map<number, readonly Way[]>[] {
  const usable: Map<number, readonly Way[]>[] = [];
  for (let trip = ways.length - 1; trip >= 0; trip--) {
    const next = usable[0];
    const from = new Map<number, readonly Way[]>();
    for (const [node, list] of ways[trip]!) {
      const kept = list.filter(({ end }) => next === undefined || next.has(end));
      if (kept.length > 0) from.set(node, kept);
    }
    usable.unshift(from);
  }
  return usable;
}
