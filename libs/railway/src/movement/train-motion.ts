import type { TrainState } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { instant, mmPerS, ms, um } from '../units.js';
import { positionAt } from './motion.js';
import {
  anchor,
  command,
  rangeAt,
  reachAt,
  seenAt,
  standing,
  type Range,
  type RunningModel,
} from './reckoning.js';
import { speedOf, stepFor } from './speed-table.js';

/** Estimated head position at `now`, µm along the path. */
export const headAt = (model: RunningModel, train: TrainState, now: number): number =>
  positionAt(train.reckoning.nominal, model.nominal, instant(now));

/** The furthest place where the head may be at `now`, mm, rounded up. */
export const furthestHead = (model: RunningModel, train: TrainState, now: number): number =>
  Math.ceil(rangeAt(model, train.reckoning, instant(now)).high / 1000);

/** The furthest place the head can come to if it is told to stop at `now`, mm, rounded up. */
export const furthestStop = (model: RunningModel, train: TrainState, now: number): number =>
  Math.ceil(reachAt(model, train.reckoning, instant(now)) / 1000);

/** Fixes the head of a train that stands somewhere between two places, mm. */
export function placeHead(w: Writer, index: number, low: number, high: number): void {
  const range = { low: um(low * 1000), high: um(high * 1000) };
  w.train(index).reckoning = standing(range, range.low, instant(w.now));
}

/** How much later than a detector's declared worst a message may be without harm, ms. */
export const LATENESS_ALLOWED = 250;

/**
 * Corrects the reckoning by an edge: the head has reached `place` mm, at most the message's worst delay and the lateness allowed ago. An edge
 * that comes later than spread and delay explain was itself late; then the older bound ahead is the one that holds.
 */
export function seeHead(w: Writer, index: number, place: number, worstDelay: number): void {
  const model = w.world.models[index]!;
  const train = w.train(index);
  const now = instant(w.now);
  const seen = seenAt(
    model,
    train.reckoning,
    um(place * 1000),
    ms(worstDelay + LATENESS_ALLOWED),
    now,
  );
  const before = rangeAt(model, train.reckoning, now);
  const range: Range = before.low > seen.high ? { low: seen.low, high: before.high } : seen;
  train.reckoning = anchor(model, train.reckoning, range, now);
}

/** Corrects the reckoning by what tells only that the head is not before `place` mm. */
export function seeHeadBeyond(w: Writer, index: number, place: number): void {
  const model = w.world.models[index]!;
  const train = w.train(index);
  const now = instant(w.now);
  const low = um(place * 1000);
  const { high } = rangeAt(model, train.reckoning, now);
  train.reckoning = anchor(model, train.reckoning, { low, high: um(Math.max(low, high)) }, now);
}

/**
 * Tells all locomotives of a train to run at `speed` mm/s in the direction of its path, each by its own speed
 * table. Reckoning goes on with what the leading table really gives.
 */
export function commandSpeed(w: Writer, index: number, speed: number): void {
  const stock = w.world.stock.trains[index]!;
  const state = w.state.trains[index]!;
  let nominal = 0;
  const commands = stock.locomotives.map((locomotive, place) => {
    const forward = locomotive.facingForward === state.frontLeads;
    const { speedTable, address } = locomotive.file;
    const table = forward ? speedTable.forward : speedTable.reverse;
    const step = stepFor(table, mmPerS(speed));
    if (place === 0) nominal = speedOf(table, step);
    return { kind: 'set-speed', address, forward, step } as const;
  });
  if (Math.round(nominal * 1000) === state.reckoning.nominal.target) return;
  const model = w.world.models[index]!;
  w.train(index).reckoning = command(model, state.reckoning, mmPerS(nominal), instant(w.now));
  for (const each of commands) w.send(each);
}
