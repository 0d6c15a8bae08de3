import type { Certainty } from '../session/state.js';
import type { Writer } from '../session/writer.js';
import { addressKey } from '../stock/compile-stock.js';
import { strangerBeyond } from './adjacent.js';

/** How well a train's place is known from now on, and by what. */
export function know(w: Writer, index: number, certainty: Certainty, evidence: string): void {
  const { identity } = w.train(index);
  if (identity.certainty !== certainty) identity.since = w.now;
  identity.certainty = certainty;
  identity.evidence = evidence;
}

/** It is not certain any more that a train stands where it is believed: it stops, and a person is asked. */
export function doubtIdentity(w: Writer, index: number, why: string, mend: string): void {
  if (w.state.trains[index]!.activity.kind === 'absent') return;
  know(w, index, 'ambiguous', `${why}.`);
  w.follow({ kind: 'halt', train: index, why, mend });
}

/**
 * The head entered a section on its held path: it can only be this train, for nobody else may be there. Unless something
 * unidentified stands next to that path: that may have come instead.
 */
export function noteInference(w: Writer, index: number, section: number): void {
  const { certainty } = w.state.trains[index]!.identity;
  if (certainty === 'ambiguous' || isReadIn(w, index, section)) return;
  const { id, detector } = w.world.layout.sections[section]!;
  const stock = w.world.stock.trains[index]!;
  const { label } = stock.file;
  const stranger = strangerBeyond(w, index, section);
  if (stranger !== null) {
    const beside = w.world.layout.sections[stranger]!.id;
    return doubtIdentity(
      w,
      index,
      `section ${id} became occupied on the way of ${label}, but what stands unidentified in section ${beside} next to it may have caused it`,
      `Look whether ${label} stands there and say so; then see to section ${beside}.`,
    );
  }
  if (!stock.answers || !detector.reportsIdentity) w.state.counts.inferred++;
  know(
    w,
    index,
    'inferred',
    `Section ${id} became occupied on the way held for ${label} alone; ${whyNotRead(w, index, section)}.`,
  );
}

/** Whether a decoder of the train is read in the section now. */
function isReadIn(w: Writer, index: number, section: number): boolean {
  const { addresses } = w.world.stock.trains[index]!;
  return w.state.sections[section]!.decoders.some((it) => addresses.includes(addressKey(it)));
}

/** Why no decoder of the train names it in a section: silence is never vacancy. */
function whyNotRead(w: Writer, index: number, section: number): string {
  const { answers, answering } = w.world.stock.trains[index]!;
  const { reportsIdentity, readsAtOnce } = w.world.layout.sections[section]!.detector;
  if (!answers) return 'its decoder does not answer';
  if (!reportsIdentity) return 'the detector there hears no decoders';
  if (answering > readsAtOnce) return 'the detector there cannot tell so many decoders apart';
  return 'no report has come yet';
}
