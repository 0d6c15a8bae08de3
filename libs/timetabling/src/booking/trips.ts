import { callFrom, callTo, type CallRef, type World } from '@blockbell/railway';

/** A train's run from one stop to the next, with what is booked for it. Times fast ms. */
export interface Trip {
  readonly train: number;
  /** Legs of the working from the first to the last; between them it passes without stopping. */
  readonly leg: number;
  readonly lastLeg: number;
  /** Null where the train stands away from the first call of a service. */
  readonly from: CallRef | null;
  /** Null where it only moves to where its next service begins. */
  readonly to: CallRef | null;
  readonly depart: number | null;
  readonly arrive: number | null;
  readonly passes: readonly { readonly leg: number; readonly call: CallRef; readonly at: number }[];
  /** Least stay after it: dwell at the stop, or the turn-round. 0 after the last trip. */
  readonly stay: number;
  /** Whether another service begins where it ends. */
  readonly endsService: boolean;
}

/** The trips of one train in their order. */
export function tripsOf(world: World, train: number): Trip[] {
  const graph = world.graphs[train]!;
  const { ratio } = world.timetable;
  const trips: Trip[] = [];
  for (let leg = 0; leg < graph.legCount;) {
    let lastLeg = leg;
    while (lastLeg + 1 < graph.legCount && !graph.stops[lastLeg + 1]!.stops) lastLeg++;
    const from = callFrom(graph, leg);
    const to = callTo(graph, lastLeg);
    const passes: { leg: number; call: CallRef; at: number }[] = [];
    for (let each = leg; each < lastLeg; each++) {
      const call = callTo(graph, each)!;
      const { depart } = callOf(world, call);
      if (depart !== null) passes.push({ leg: each, call, at: depart });
    }
    const onward = lastLeg + 1 < graph.legCount ? callFrom(graph, lastLeg + 1) : null;
    const stop = onward === null ? null : callOf(world, onward);
    trips.push({
      train,
      leg,
      lastLeg,
      from,
      to,
      depart: from === null ? null : callOf(world, from).depart,
      arrive: to === null ? null : callOf(world, to).arrive,
      passes,
      stay: stop === null ? 0 : Math.max(stop.dwellFast, stop.dwellReal * ratio),
      endsService: onward !== null && onward.service !== to?.service,
    });
    leg = lastLeg + 1;
  }
  return trips;
}

export const callOf = ({ timetable }: World, { service, call }: CallRef) =>
  timetable.services[service]!.calls[call]!;

/** The service a trip belongs to; for a move between two services, the one it goes to. */
export const serviceOf = ({ from, to }: Trip): number => (to ?? from)!.service;
