import type { DisturbancesFile } from '@blockbell/contract';
import type { World } from '@blockbell/railway';
import { forkStream, type Fault } from '@blockbell/simulation';
import { drawFrom, exponential, fraction, isHit } from './distributions.js';

/** What goes wrong in one session, but for lost contacts, which are drawn as sections become occupied. */
export interface Drawn {
  readonly lateDepartures: readonly LateDeparture[];
  readonly trainFailures: readonly TrainFailure[];
  /** Slow trains and drives that fail, with their times. */
  readonly faults: readonly Fault[];
}

/** A service that is not ready to leave a call before so many physical ms after it might. */
export interface LateDeparture {
  readonly service: number;
  readonly call: number;
  readonly by: number;
}

/** The train of a service stops dead so many physical ms after setting off, for so long. */
export interface TrainFailure {
  readonly service: number;
  readonly after: number;
  readonly lasts: number;
}

const SECOND = 1000;
const HOUR = 3_600_000;
/** A train that fails does so within this time of setting off, physical ms. */
const UNDER_WAY = 30_000;

/**
 * Draws a session's disturbances from its seed. Each service, train and turnout has a stream of its own by its id: what happens to
 * one is the same in another timetable of the same railway that has it too, so that two can be compared in pairs.
 */
export function drawDisturbances(
  world: World,
  { lateStarts, longerCalls, slowTrains, trainFailures, turnoutFailures }: DisturbancesFile,
  seed: number,
): Drawn {
  const { timetable, stock, layout } = world;
  const { start, end, ratio } = timetable;
  const length = Math.round((end - start) / ratio);
  const lateDepartures: LateDeparture[] = [];
  const failures: TrainFailure[] = [];
  const faults: Fault[] = [];
  timetable.services.forEach(({ file, calls }, service) => {
    const times = forkStream(seed, `times of ${file.id}`);
    calls.forEach(({ stops }, call) => {
      const kind = call === 0 ? lateStarts : longerCalls;
      if (kind === undefined) return;
      const hit = isHit(times, kind.share);
      const by = Math.round((drawFrom(times, kind.by) * SECOND) / ratio);
      if (hit && by > 0 && stops && call < calls.length - 1) {
        lateDepartures.push({ service, call, by });
      }
    });
    const chance = forkStream(seed, `failure of ${file.id}`);
    if (trainFailures === undefined || !isHit(chance, trainFailures.share)) return;
    const after = 1 + Math.floor(fraction(chance) * UNDER_WAY);
    failures.push({ service, after, lasts: lasting(drawFrom(chance, trainFailures.lasts)) });
  });
  stock.trains.forEach(({ file }, train) => {
    const chance = forkStream(seed, `speed of ${file.id}`);
    if (slowTrains === undefined || !isHit(chance, slowTrains.share)) return;
    const permille = Math.max(0, 1000 - Math.round(drawFrom(chance, slowTrains.by) * 10));
    faults.push({ kind: 'slip', at: 0, duration: null, train, permille });
  });
  const driven = layout.elements.filter(({ drive, kind }) => drive !== null && kind !== 'polarity');
  for (const { id, index: element } of turnoutFailures === undefined ? [] : driven) {
    const { perHour, lasts } = turnoutFailures!;
    if (perHour === 0) break;
    const chance = forkStream(seed, `drive of ${id}`);
    const gap = (HOUR * driven.length) / perHour;
    for (let at = exponential(chance, gap); at < length; at += exponential(chance, gap)) {
      const duration = lasting(drawFrom(chance, lasts));
      faults.push({ kind: 'stuck-drive', at: Math.round(at), duration, element });
    }
  }
  return { lateDepartures, trainFailures: failures, faults };
}

/** Seconds as whole ms, at least one. */
export const lasting = (seconds: number): number => Math.max(1, Math.round(seconds * SECOND));
