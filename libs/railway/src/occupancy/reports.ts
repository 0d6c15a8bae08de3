import { raiseAlarm } from '../session/alarms.js';
import type { ReadDecoder } from '../session/device.js';
import { isWatching } from '../session/phase.js';
import type { Writer } from '../session/writer.js';
import { addressKey } from '../stock/compile-stock.js';
import { adjoins } from './adjacent.js';
import { openDoubt, reportSpeaks } from './doubt.js';
import { isNews } from './evidence.js';
import { expectedFacing } from './facing.js';
import { doubtIdentity, know } from './identity.js';
import { nameStranger } from './strangers.js';

/** Contradicting reports that may be explained as misreadings before the train itself is doubted. */
const MISREADS_ALLOWED = 1;

/** Decoders read in a section, all of them; none read says nothing about who is there. */
export function reportMessage(
  w: Writer,
  index: number,
  decoders: readonly ReadDecoder[],
  crowded: boolean,
): void {
  const section = w.section(index);
  section.decoders = [...decoders];
  section.crowded = crowded;
  w.changes.lineUp = true;
  if (!isWatching(w.state)) return;
  for (const address of decoders) {
    if (w.world.stock.trainByAddress.has(addressKey(address))) continue;
    w.log(`${sectionName(w, index)} reports the unknown decoder ${addressKey(address)}.`);
  }
  weighReadings(w, index);
}

/**
 * What the decoders read in a section say of who stands there. Where the section reads clear, a report is late or has
 * overtaken its edge: it may confirm, but contradicts nobody; when the edge comes it is looked at again.
 */
export function weighReadings(w: Writer, index: number): void {
  const { claim, belief, unidentified, decoders, crowded } = w.state.sections[index]!;
  const trains = trainsOf(w, decoders);
  const others = trains.filter((train) => train !== claim);
  if (claim < 0) {
    if (belief !== 'occupied' || unidentified === null) return;
    for (const train of trains) nameStranger(w, index, train);
    return;
  }
  const isThere = trains.includes(claim);
  if (belief === 'clear') return isThere ? confirm(w, index, claim) : undefined;
  for (const train of trains) reportSpeaks(w, train, index);
  if (isThere && others.length > 0) return bothThere(w, index, claim, others);
  if (crowded && !mayCrowd(w, index, claim)) return moreThere(w, index, claim);
  if (isThere) return confirm(w, index, claim);
  for (const train of others) contradict(w, index, train, claim);
}

function trainsOf(w: Writer, decoders: readonly ReadDecoder[]): number[] {
  const found = decoders.map((it) => w.world.stock.trainByAddress.get(addressKey(it)));
  return [...new Set(found.filter((train) => train !== undefined))];
}

/** Whether a train alone has more decoders than the section's detector can tell apart. */
const mayCrowd = (w: Writer, section: number, train: number): boolean =>
  w.world.stock.trains[train]!.answering > w.world.layout.sections[section]!.detector.readsAtOnce;

/** The decoder answered where the train was believed to be; perhaps it says which way round it stands. */
function confirm(w: Writer, section: number, train: number): void {
  const { identity } = w.state.trains[train]!;
  if (identity.certainty === 'ambiguous') return;
  const turned = w.state.sections[section]!.decoders.find((decoder) => {
    const expected = expectedFacing(w, train, section, decoder);
    return expected !== null && decoder.facing !== undefined && decoder.facing !== expected;
  });
  if (turned !== undefined) return turnedRound(w, section, train, turned);
  if (identity.certainty !== 'reported') w.state.counts.reported++;
  know(w, train, 'reported', `Its decoder answered in ${sectionName(w, section)}.`);
  if (isNews(w, section, train)) identity.misreads = 0;
}

function turnedRound(w: Writer, section: number, train: number, { facing }: ReadDecoder): void {
  const name = label(w, train);
  const text = `${name} answers in ${sectionName(w, section)} facing ${facing}, the other way round than believed`;
  doubtIdentity(w, train, text, `Put ${name} the right way round, or say which way it stands.`);
  raiseAlarm(w, `identity:${train}`, `${text}.`, 'Look which way round it stands.');
}

/**
 * A section on one train's way reported another. Next to where that other is believed to be, it may have gone the
 * wrong way: both stop. Far away, one such report is explained as a misreading; a second, independent of it, puts both in
 * doubt.
 */
function contradict(w: Writer, section: number, train: number, claim: number): void {
  if (!isNews(w, section, train)) return;
  const near = adjoins(w, train, section);
  const { identity } = w.train(claim);
  const text = `${sectionName(w, section)} read ${label(w, train)} where ${label(w, claim)} was expected`;
  identity.misreads++;
  if (identity.misreads <= MISREADS_ALLOWED && !near) {
    w.log(`${text}: taken for a misreading.`, claim);
    return;
  }
  const doubted = presentOnes(w, [claim, train]);
  for (const each of doubted) {
    doubtIdentity(w, each, text, 'Look which train stands there and say so.');
  }
  openDoubt(w, doubted, `${text}.`);
  raiseAlarm(w, `identity:${claim}`, `${text}.`, 'Look which train stands where and say so.');
}

/** The train answers where it is believed, and others beside it: no misreading explains that. Two trains are in one place. */
function bothThere(w: Writer, section: number, claim: number, others: readonly number[]): void {
  const names = others.map((train) => label(w, train)).join(' and ');
  const text = `${sectionName(w, section)} read ${names} beside ${label(w, claim)}, for which alone it is held`;
  for (const each of presentOnes(w, [claim, ...others])) {
    doubtIdentity(w, each, text, 'Look what stands there; take off what does not belong there.');
  }
  raiseAlarm(w, `identity:${claim}`, `${text}.`, 'Look which trains stand there and say so.');
}

/** More decoders answer than the train has. */
function moreThere(w: Writer, section: number, claim: number): void {
  const text = `${sectionName(w, section)} hears more decoders than ${label(w, claim)} has`;
  doubtIdentity(w, claim, text, 'Look what stands beside it; take off what does not belong there.');
  raiseAlarm(w, `identity:${claim}`, `${text}.`, 'Look what stands there besides the train.');
}

const presentOnes = (w: Writer, trains: readonly number[]): number[] =>
  trains.filter((train) => w.state.trains[train]!.path.length > 0);

const label = (w: Writer, train: number): string => w.world.stock.trains[train]!.file.label;

const sectionName = (w: Writer, section: number): string =>
  `Section ${w.world.layout.sections[section]!.id}`;
