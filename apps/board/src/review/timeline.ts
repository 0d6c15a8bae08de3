import type { RecordedMark, RecordingIndex } from '@blockbell/contract/messages';

/** A moment of a recorded session: which opening, physical ms in it, and the part of the recording that shows it. */
export interface Moment {
  readonly run: number;
  readonly at: number;
  readonly part: number;
}

/** A mark at its place on the slider. */
export interface PlacedMark {
  readonly mark: RecordedMark;
  readonly position: number;
}

/** What is gone to from mark to mark: alarms, or what people decided. */
export type MarkKind = 'alarm' | 'decision';

/** A stretch of the slider. */
export interface Stretch {
  readonly from: number;
  readonly until: number;
}

interface PlacedSpan {
  readonly run: number;
  readonly from: number;
  readonly until: number;
  /** Position at which it begins. */
  readonly offset: number;
}

/**
 * All that was recorded of a session as one line: positions are ms from its beginning, one opening after the other. Time between
 * two openings, in which the server did not run, takes no room.
 */
export class Timeline {
  readonly length: number;
  readonly marks: readonly PlacedMark[];
  /** Of which nothing could be written. */
  readonly gaps: readonly Stretch[];
  /** Where the server was started again. */
  readonly restarts: readonly number[];
  readonly #spans: readonly PlacedSpan[];
  readonly #parts: RecordingIndex['parts'];

  constructor({ spans, parts, gaps, marks }: RecordingIndex) {
    let length = 0;
    this.#spans = spans.map(({ run, from, until }) => {
      const offset = length;
      length += until - from;
      return { run, from, until, offset };
    });
    this.length = length;
    this.#parts = parts;
    this.marks = marks
      .flatMap((mark) => {
        const position = this.positionOf(mark.run, mark.at);
        return position === null ? [] : [{ mark, position }];
      })
      .toSorted((p, q) => p.position - q.position);
    this.gaps = gaps.flatMap(({ run, from, until }) => {
      const start = this.positionOf(run, from);
      const end = this.positionOf(run, until);
      return start === null || end === null ? [] : [{ from: start, until: end }];
    });
    this.restarts = this.#spans.slice(1).map(({ offset }) => offset);
  }

  /** Null when nothing is kept. Positions beyond the ends are those of the ends. */
  momentAt(position: number): Moment | null {
    const within = Math.max(0, Math.min(this.length, position));
    const span = this.#spans.findLast(({ offset }) => offset <= within);
    if (!span) return null;
    const { run } = span;
    const at = span.from + within - span.offset;
    const found = this.#parts.findLast((part) => part.run === run && part.from <= at);
    return found ? { run, at, part: found.part } : null;
  }

  /** Position of a moment; null when nothing is kept of its opening. Later than what is kept: where that ends. */
  positionOf(run: number, at: number): number | null {
    const span = this.#spans.find((one) => one.run === run);
    if (!span) return null;
    return span.offset + Math.max(0, Math.min(span.until, at) - span.from);
  }

  /** The same without an end: a clock that runs on leads into the next opening. */
  positionAfter(run: number, at: number): number {
    const span = this.#spans.find((one) => one.run === run);
    return span ? span.offset + at - span.from : 0;
  }

  gapAt(position: number): Stretch | null {
    return this.gaps.find(({ from, until }) => from < position && position < until) ?? null;
  }

  /** The next alarm or decision after a position, or the last before it; null when there is none. */
  markFrom(what: MarkKind, position: number, direction: 1 | -1): PlacedMark | null {
    const marks = this.marksOf(what);
    const found =
      direction === 1
        ? marks.find((mark) => mark.position > position)
        : marks.findLast((mark) => mark.position < position);
    return found ?? null;
  }

  marksOf(what: MarkKind): readonly PlacedMark[] {
    return this.marks.filter(({ mark }) => (mark.kind === 'alarm') === (what === 'alarm'));
  }
}
