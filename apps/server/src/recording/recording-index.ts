import type { RecordedMark, RecordedSpan, RecordingIndex } from '@blockbell/contract';
import type { PieceHead } from './recording-store.js';
import type { OwnMark } from './session-recorder.js';

/** One part as it can be shown: its key frame and the pieces that follow from it without a break. */
export interface RecordedPart {
  readonly run: number;
  /** Number within the run, as stored. */
  readonly part: number;
  readonly pieces: readonly PieceHead[];
}

/** Brings together what can be shown, in order. `heads`: in order. */
export function partsOf(heads: readonly PieceHead[]): RecordedPart[] {
  const parts: { run: number; part: number; pieces: PieceHead[] }[] = [];
  for (const head of heads) {
    const open = parts.at(-1);
    if (head.piece === 0) {
      parts.push({ run: head.run, part: head.part, pieces: [head] });
    } else if (open !== undefined && continues(open.pieces.at(-1)!, head)) open.pieces.push(head);
  }
  return parts;
}

const continues = (before: PieceHead, head: PieceHead): boolean =>
  head.run === before.run &&
  head.part === before.part &&
  head.piece === before.piece + 1 &&
  head.fromRevision === before.revision;

/** What there is of a session, but for the session itself. `heads`: in order. */
export function indexOf(heads: readonly PieceHead[]): Omit<RecordingIndex, 'session'> {
  const parts = partsOf(heads);
  return {
    spans: spansOf(parts),
    parts: parts.map(({ run, pieces }, part) => ({
      part,
      run,
      from: pieces[0]!.from,
      until: pieces.at(-1)!.until,
    })),
    gaps: gapsOf(parts),
    marks: heads.flatMap(marksOf),
  };
}

function spansOf(parts: readonly RecordedPart[]): RecordedSpan[] {
  const spans = new Map<number, RecordedSpan>();
  for (const { run, pieces } of parts) {
    const first = pieces[0]!;
    const last = pieces.at(-1)!;
    const { from, fromFast } = spans.get(run) ?? first;
    spans.set(run, { run, from, fromFast, until: last.until, untilFast: last.untilFast });
  }
  return [...spans.values()];
}

/** Within an opening, a key frame that shows another picture than the piece before it led to. */
const gapsOf = (parts: readonly RecordedPart[]): RecordingIndex['gaps'] =>
  parts.slice(1).flatMap(({ run, pieces }, index) => {
    const before = parts[index]!;
    const last = before.pieces.at(-1)!;
    const next = pieces[0]!;
    if (before.run !== run || last.revision === next.revision || last.until >= next.from) return [];
    return [{ run, from: last.until, until: next.from }];
  });

const marksOf = ({ run, marks }: PieceHead): RecordedMark[] =>
  marksIn(marks).map((mark) => ({ ...mark, run }));

/** How many alarms are among the marks of some pieces. */
export const alarmsIn = (marks: readonly string[]): number =>
  marks.flatMap(marksIn).filter(({ kind }) => kind === 'alarm').length;

const marksIn = (text: string): OwnMark[] => JSON.parse(text) as OwnMark[];
