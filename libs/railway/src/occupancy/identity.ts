import { raiseAlarm } from '../session/alarms.js';
import type { Certainty } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { addressKey } from '../stock/compile-stock.js';
import type { DecoderAddress } from '../stock/stock-file.js';
import { isWatching } from '../session/phase.js';
import { openDoubt, reportSpeaks } from './doubt.js';
import { adjoins } from './adjacent.js';
import { nameStranger } from './strangers.js';

/** Contradicting reports that may be explained as misreadings before the train itself is doubted. */
const MISREADS_ALLOWED = 1;

function know(w: Writer, index: number, certainty: Certainty, evidence: string): void {
  const { identity } = w.train(index);
  if (identity.certainty !== certainty) identity.since = w.now;
  identity.certainty = certainty;
  identity.evidence = evidence;
}

/** The head entered a section on its held path: it can only be this train, for nobody else may be there. */
export function noteInference(w: Writer, index: number, section: number): void {
  const { certainty } = w.state.trains[index]!.identity;
  if (certainty === 'ambiguous') return;
  const { id, detector } = w.world.layout.sections[section]!;
  const stock = w.world.stock.trains[index]!;
  const why = !stock.answers
    ? 'its decoder does not answer'
    : detector.reportsIdentity
      ? 'no report has come yet'
      : 'the detector there hears no decoders';
  if (!stock.answers || !detector.reportsIdentity) w.state.counts.inferred++;
  know(
    w,
    index,
    'inferred',
    `Section ${id} became occupied on the way held for ${stock.file.label} alone; ${why}.`,
  );
}

/** Decoders read in a section, all of them; none read says nothing about who is there. */
export function reportMessage(w: Writer, index: number, decoders: readonly DecoderAddress[]): void {
  w.section(index).decoders = [...decoders];
  w.changes.lineUp = true;
  if (!isWatching(w.state)) return;
  for (const address of decoders) {
    const train = w.world.stock.trainByAddress.get(addressKey(address));
    if (train === undefined)
      w.log(`${sectionName(w, index)} reports the unknown decoder ${addressKey(address)}.`);
    else reported(w, index, train);
  }
}

function reported(w: Writer, section: number, train: number): void {
  const { claim, belief, unidentified } = w.state.sections[section]!;
  if (claim >= 0) reportSpeaks(w, train, w.world.layout.sections[section]!.elements[0]!);
  if (claim === train) return confirm(w, section, train);
  if (claim >= 0) return contradict(w, section, train, claim);
  if (belief === 'occupied' && unidentified !== null) nameStranger(w, section, train);
}

/** The decoder answered where the train was believed to be. */
function confirm(w: Writer, section: number, train: number): void {
  const { identity } = w.state.trains[train]!;
  if (identity.certainty === 'ambiguous') return;
  if (identity.certainty !== 'reported') w.state.counts.reported++;
  know(w, train, 'reported', `Its decoder answered in ${sectionName(w, section)}.`);
  identity.misreads = 0;
}

/**
 * A section on one train's way reported another. Next to where that other is believed to be, it may have gone the
 * wrong way: both stop. Far away, one such report is explained as a misreading; a second puts both in doubt.
 */
function contradict(w: Writer, section: number, train: number, claim: number): void {
  const label = (index: number): string => w.world.stock.trains[index]!.file.label;
  const { identity } = w.train(claim);
  const text = `${sectionName(w, section)} read ${label(train)} where ${label(claim)} was expected`;
  identity.misreads++;
  if (identity.misreads <= MISREADS_ALLOWED && !adjoins(w, train, section)) {
    w.log(`${text}: taken for a misreading.`, claim);
    return;
  }
  for (const doubted of [claim, train]) {
    if (w.state.trains[doubted]!.activity.kind === 'absent') continue;
    know(w, doubted, 'ambiguous', `${text}.`);
    w.follow({
      kind: 'halt',
      train: doubted,
      why: text,
      mend: 'Look which train stands there and say so.',
    });
  }
  openDoubt(w, presentOnes(w, [claim, train]), text);
  raiseAlarm(w, `identity:${claim}`, `${text}.`, 'Look which train stands where and say so.');
}

const presentOnes = (w: Writer, trains: readonly number[]): number[] =>
  trains.filter((train) => w.state.trains[train]!.path.length > 0);

const sectionName = (w: Writer, section: number): string =>
  `Section ${w.world.layout.sections[section]!.id}`;
