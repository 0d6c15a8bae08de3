import type { DeltaMessage, RecordedMark, SnapshotMessage } from '@blockbell/contract';
import { fastNow } from '@blockbell/railway';
import type { DeltaListener } from '../session/delta-stream.js';
import type { WallClock } from '../session/paced-clock.js';
import { PieceWriter, type RecordingObserver, type RecordingSink } from './piece-writer.js';

/** A mark of the opening that is being recorded. */
export type OwnMark = Omit<RecordedMark, 'run'>;

export interface RecorderParts {
  readonly sink: RecordingSink;
  readonly observer: RecordingObserver;
  /** Number of the session, and how often it was opened. */
  readonly session: number;
  readonly run: number;
  readonly wall: WallClock;
}

/** Wall-clock ms of deltas in one piece at most. */
export const BATCH_SPAN = 5_000;
/** Physical ms, and wall-clock ms, between key frames at least. */
export const KEY_FRAME_SPAN = 60_000;
const KEY_FRAME_PAUSE = 10_000;
/** Lines of the log in a key frame; a board shows no more. */
const LOG_KEPT = 200;

type Clock = NonNullable<SnapshotMessage['rows']['session']>['clock'];

/** Where the recording stands: the last message it holds. */
interface Reached {
  readonly at: number;
  readonly fast: number;
  readonly revision: number;
}

/**
 * Records what boards are told, whether one listens or not: a key frame at the beginning, at the end, and now and then
 * between them; after each the deltas. Recording never waits; while nothing changes, nothing is recorded.
 */
export class SessionRecorder implements DeltaListener {
  private readonly writer: PieceWriter;
  private reached: Reached | null = null;
  /** Where the piece that is being gathered began. */
  private began: Reached | null = null;
  private deltas: string[] = [];
  /** Marks of this piece, and those that no picture shows yet. */
  private marks: OwnMark[] = [];
  private fresh: OwnMark[] = [];
  private clock: Clock | null = null;
  private phase: string | null = null;
  private part = -1;
  private piece = 0;
  private keyFrameAt = { physical: 0, wall: 0, revision: 0 };
  /** Wall-clock ms since which the piece is being gathered. */
  private since = 0;

  constructor(private readonly parts: RecorderParts) {
    this.writer = new PieceWriter(parts.sink, parts.observer, (marks) => this.lost(marks));
  }

  tick(delta: DeltaMessage | null, snapshot: () => SnapshotMessage): void {
    if (this.reached === null) {
      this.keyFrame(snapshot());
      return;
    }
    const { phase } = this;
    if (delta !== null) this.add(delta);
    const ended = this.phase === 'ended' && phase !== 'ended';
    if (ended || (delta !== null && this.isKeyFrameDue(delta.now))) this.keyFrame(snapshot());
    else if (this.deltas.length > 0 && this.parts.wall() - this.since >= BATCH_SPAN)
      this.closePiece();
  }

  /** Something worth going to when the session is looked at again. Its moment is that of the next picture, the first to show it. */
  mark(mark: OwnMark): void {
    this.fresh.push(mark);
  }

  /** The end: what is left, and a last key frame. Whether all of it is on disk now. */
  async close(delta: DeltaMessage | null, snapshot: () => SnapshotMessage): Promise<boolean> {
    if (delta !== null && this.reached !== null) this.add(delta);
    const { reached, keyFrameAt } = this;
    if (reached !== null && (reached.revision !== keyFrameAt.revision || this.fresh.length > 0))
      this.keyFrame(snapshot());
    return this.writer.close();
  }

  private isKeyFrameDue(now: number): boolean {
    const { physical, wall } = this.keyFrameAt;
    return now - physical >= KEY_FRAME_SPAN && this.parts.wall() - wall >= KEY_FRAME_PAUSE;
  }

  private add(delta: DeltaMessage): void {
    if (this.deltas.length === 0) {
      this.began = this.reached;
      this.since = this.parts.wall();
    }
    this.deltas.push(JSON.stringify(delta));
    this.move(delta, delta.rows.session);
  }

  private keyFrame(snapshot: SnapshotMessage): void {
    this.closePiece();
    const { rows } = snapshot;
    this.move(snapshot, rows.session);
    this.part++;
    this.piece = 0;
    this.keyFrameAt = {
      physical: snapshot.now,
      wall: this.parts.wall(),
      revision: snapshot.revision,
    };
    const kept = { ...snapshot, rows: { ...rows, log: rows.log?.slice(-LOG_KEPT) ?? [] } };
    this.write(this.reached!, JSON.stringify(kept));
  }

  private move({ now, revision }: SnapshotMessage | DeltaMessage, session = this.session()): void {
    if (session !== undefined) {
      this.clock = session.clock;
      this.phase = session.phase;
    }
    const fast = this.clock === null ? 0 : Math.round(fastNow(this.clock, now));
    const at = Math.round(now);
    this.reached = { at, fast, revision };
    this.marks.push(...this.fresh.map((mark) => ({ ...mark, at: Math.max(mark.at, at) })));
    this.fresh = [];
  }

  /** Without a row of the session its clock runs on as it did. */
  private session(): { readonly clock: Clock; readonly phase: string } | undefined {
    return this.clock === null || this.phase === null
      ? undefined
      : { clock: this.clock, phase: this.phase };
  }

  private closePiece(): void {
    if (this.reached === null || this.deltas.length === 0) return;
    this.piece++;
    this.write(this.began ?? this.reached, `[${this.deltas.join(',')}]`);
  }

  private write(from: Reached, text: string): void {
    const { session, run } = this.parts;
    const { at, fast, revision } = this.reached!;
    const { marks } = this;
    this.marks = [];
    this.deltas = [];
    this.began = null;
    this.writer.add({
      session,
      run,
      part: this.part,
      piece: this.piece,
      from: from.at,
      until: at,
      fromFast: from.fast,
      untilFast: fast,
      fromRevision: from.revision,
      revision,
      marks,
      text,
    });
  }

  /** Pieces were given up: the recording goes on with a key frame, and keeps what was worth going to. */
  private lost(marks: readonly OwnMark[]): void {
    this.marks.unshift(...marks);
    this.deltas = [];
    this.began = null;
    this.reached = null;
  }
}
