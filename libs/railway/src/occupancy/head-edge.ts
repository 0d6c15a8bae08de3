import { piecesOf, type PlacedPiece } from '../interlocking/held-path.js';
import { showSignals } from '../interlocking/signals.js';
import { stands } from '../movement/standing.js';
import { furthestHead, seeHead, seeHeadBeyond } from '../movement/train-motion.js';
import { passCalls } from '../timetable/progress.js';
import { raiseAlarm } from '../session/alarms.js';
import type { Writer } from '../session/writer.js';
import { doubtStrayed } from './astray.js';
import { leadingUnseen } from './extent.js';
import { doubtIdentity, noteInference } from './identity.js';
import { proveTail } from './tail-proof.js';

/** How much earlier than reckoned an edge may come before something else must have caused it, in mm. */
const EARLY_TOLERANCE = 60;

/** A section on the train's held path has become occupied. */
export function headSeen(w: Writer, index: number, section: number): void {
  const train = w.state.trains[index]!;
  const stock = w.world.stock.trains[index]!;
  const lead = leadingUnseen(stock, train);
  const pieces = piecesOf(w.world.layout, train.path);
  const seen = pieces.find((p) => p.section === section && p.start + lead > train.edge);
  if (seen === undefined) return seenBehindHead(w, index, section, pieces);
  const edge = seen.start + lead;
  const early = edge > furthestHead(w.world.models[index]!, train, w.now) + EARLY_TOLERANCE;
  if (seen.item > train.authorised || (early && stands(w, index))) {
    doubtStrayed(w, section, index);
    return movedUnasked(w, index, section);
  }
  if (early) {
    doubtStrayed(w, section, index);
    return seenTooEarly(w, index, section);
  }
  acceptEdge(w, index, pieces, seen, edge);
}

/** The head is at `edge`, and no further than what the message's delay allows. */
function acceptEdge(
  w: Writer,
  index: number,
  pieces: readonly PlacedPiece[],
  seen: PlacedPiece,
  edge: number,
): void {
  const train = w.train(index);
  const lead = edge - seen.start;
  train.blind.push(
    ...pieces
      .filter((p) => p.section >= 0 && p.start + lead > train.edge && p.start < seen.start)
      .filter((p) => p.section !== seen.section && w.state.sections[p.section]!.belief === 'clear')
      .map((p) => p.section),
  );
  train.edge = edge;
  const byHand = w.state.sections[seen.section]!.clearByHand !== null;
  if (byHand && !train.proving.includes(seen.section)) train.proving.push(seen.section);
  if (train.blind.includes(seen.section)) {
    // Contact has come back where it may have been lost with the head in it: nobody knows how far in.
    train.blind = train.blind.filter((each) => each !== seen.section);
    seeHeadBeyond(w, index, edge);
  } else {
    seeHead(w, index, edge, w.world.layout.sections[seen.section]!.detector.worstDelay.occupied);
  }
  noteInference(w, index, seen.section);
  proveTail(w, index);
  showSignals(w, index);
  passCalls(w, index);
  if (train.activity.kind === 'moving') w.follow({ kind: 'control', train: index });
  w.state.dispatching.due = true;
}

/** Contact came back under the train, or something stands where its tail had been proven past. */
function seenBehindHead(
  w: Writer,
  index: number,
  section: number,
  pieces: readonly PlacedPiece[],
): void {
  const train = w.train(index);
  const passed = pieces.every((p) => p.section !== section || p.end <= train.tail);
  if (!passed) return;
  doubtStrayed(w, section, index);
  const { id } = w.world.layout.sections[section]!;
  const { label } = w.world.stock.trains[index]!.file;
  raiseAlarm(
    w,
    `behind:${id}`,
    `Section ${id} is occupied again behind ${label}.`,
    'Look for a lost vehicle. The section stays closed until it reads free or you say that it is clear.',
  );
  train.adrift = true;
  doubtIdentity(
    w,
    index,
    `section ${id}, which it had left, became occupied again: it may run the wrong way, or something may follow it`,
    `Look which way round it stands and what is in section ${id}; then say where it stands.`,
  );
}

function seenTooEarly(w: Writer, index: number, section: number): void {
  w.train(index).adrift = true;
  const { id } = w.world.layout.sections[section]!;
  w.follow({
    kind: 'halt',
    train: index,
    why: `section ${id} became occupied before the train can have reached it`,
    mend: `Look what stands in section ${id}; let the train go on when it is clear.`,
  });
}

/** It moved where it had no authority: every train is stopped, and if that does not help, power goes. */
function movedUnasked(w: Writer, index: number, section: number): void {
  w.train(index).adrift = true;
  const { id } = w.world.layout.sections[section]!;
  w.follow({
    kind: 'halt',
    train: index,
    why: `it moved into section ${id} without authority`,
    mend: 'Stop it by hand if it still runs, then say where it stands.',
  });
  const { label } = w.world.stock.trains[index]!.file;
  w.follow({ kind: 'stop-everything', why: `${label} moved without authority` });
}
