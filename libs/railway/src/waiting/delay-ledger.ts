/**
 * Where the time of a train's service went: plain data, whole ms of the fast clock. At every arrival with a booked time
 *
 *     arrival delay = entry + own + Σ lost − recovered
 *
 * holds exactly, and none of the terms is below zero. What is written down of a wait is only the time from which it cost the train
 * something: not before its booked departure or its dwell was over, and while it still ran not before it would have come to
 * the end of its way at the speed it then had. What is lost in braking, in gaining speed again and in running slower than booked is its own.
 */
export interface DelayParts {
  /** What the train brought from the service before: how late it was ready for the first departure. */
  entry: number;
  /** Longer than booked between two booked moments, without a wait that would explain it. */
  own: number;
  /** Waits that cost time, those with the same train, place and reason taken together. */
  lost: LostTime[];
  /** Made up: by running or dwelling shorter than booked, less what was spent again after being early. */
  recovered: number;
}

/** Time lost in a wait. */
export interface LostTime {
  /** The train that was waited for; −1: none, the wait was its own. */
  readonly train: number;
  /** The element that the wait was about; −1: unknown. */
  readonly place: number;
  /** Kind of the wait's reason. */
  readonly why: string;
  readonly time: number;
}

/** A service's delay as it is kept while it runs. */
export interface DelayLedger extends DelayParts {
  /** Booked and true fast time of the last booked moment; null before its first departure. */
  last: { readonly booked: number; readonly fast: number } | null;
  /** Sum of `lost` since then. */
  recent: number;
  /** The wait it is in, and from when on that costs it time, fast ms. */
  open: (Omit<LostTime, 'time'> & { readonly from: number }) | null;
}

export const emptyLedger = (): DelayLedger => ({
  entry: 0,
  own: 0,
  lost: [],
  recovered: 0,
  last: null,
  recent: 0,
  open: null,
});

/** The wait so far is written down; it goes on from `fast`. */
export function cutWait(ledger: DelayLedger, fast: number): void {
  const { open } = ledger;
  if (open === null || fast <= open.from) return;
  const { train, place, why, from } = open;
  const time = fast - from;
  ledger.open = { train, place, why, from: fast };
  ledger.recent += time;
  const known = ledger.lost.findIndex(
    (it) => it.train === train && it.place === place && it.why === why,
  );
  if (known < 0) ledger.lost.push({ train, place, why, time });
  else ledger.lost[known] = { train, place, why, time: ledger.lost[known]!.time + time };
}

/** The train leaves the first call of a service; `ready`: the fast time from which it could have, had nothing kept it. */
export function enter(ledger: DelayLedger, booked: number, ready: number, fast: number): void {
  ledger.entry = Math.min(Math.max(0, ready - booked), Math.max(0, fast - booked));
  ledger.last = { booked, fast: booked + ledger.entry };
  reach(ledger, booked, fast);
}

/**
 * The train has come to a booked moment. What the time since the last one was longer than booked, less the waits in it, is its own,
 * as far as it does not only use up that it was early; what it was shorter is recovered.
 */
export function reach(ledger: DelayLedger, booked: number, fast: number): void {
  cutWait(ledger, fast);
  const { last } = ledger;
  if (last === null) return;
  const excess = fast - last.fast - (booked - last.booked) - ledger.recent;
  if (excess < 0) ledger.recovered -= excess;
  else {
    const early = Math.min(excess, Math.max(0, last.booked - last.fast));
    ledger.recovered -= early;
    ledger.own += excess - early;
  }
  ledger.last = { booked, fast };
  ledger.recent = 0;
}

/** What is kept of an arrival. */
export const partsOf = ({ entry, own, lost, recovered }: DelayLedger): DelayParts => ({
  entry,
  own,
  lost: [...lost],
  recovered,
});
