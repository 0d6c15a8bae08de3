import { Inject, Injectable } from '@nestjs/common';
import { getRepositoryToken } from '@nestjs/typeorm';
import type { Repository } from 'typeorm';
import type { RecordingSink } from './piece-writer.js';
import { RecordingPiece } from './recording-piece.entity.js';

/** All of a piece but its content. */
export type PieceHead = Omit<RecordingPiece, 'content' | 'bytes'>;

const HEAD = [
  'session',
  'run',
  'part',
  'piece',
  'from',
  'until',
  'fromFast',
  'untilFast',
  'fromRevision',
  'revision',
  'marks',
] as const satisfies readonly (keyof PieceHead)[];

/** A session's recording in brief: physical ms, and the marks of its pieces as stored. */
export interface RecordedSummary {
  readonly recorded: number;
  readonly marks: readonly string[];
}

/** How much is kept of a session. */
export interface RecordedSize {
  readonly session: number;
  readonly bytes: number;
}

/** Writes pieces of recordings, reads them back, and lets go of them. */
@Injectable()
export class RecordingStore implements RecordingSink {
  constructor(
    @Inject(getRepositoryToken(RecordingPiece))
    private readonly pieces: Repository<RecordingPiece>,
  ) {}

  /** May be repeated after a failure. */
  async write(piece: RecordingPiece): Promise<void> {
    await this.pieces.createQueryBuilder().insert().values(piece).orIgnore().execute();
  }

  /** Heads of a session's pieces, in order. */
  headsOf(session: number): Promise<PieceHead[]> {
    const query = this.pieces.createQueryBuilder('piece').select([]);
    for (const column of HEAD) query.addSelect(`piece.${column}`, column);
    return query
      .where('piece.session = :session', { session })
      .orderBy({ 'piece.run': 'ASC', 'piece.part': 'ASC', 'piece.piece': 'ASC' })
      .getRawMany<PieceHead>();
  }

  /** What is kept of every session, in brief. */
  async summaries(): Promise<ReadonlyMap<number, RecordedSummary>> {
    const stretches = await this.pieces
      .createQueryBuilder('piece')
      .select('piece.session', 'session')
      .addSelect('MAX(piece.until) - MIN(piece.from)', 'length')
      .groupBy('piece.session')
      .addGroupBy('piece.run')
      .getRawMany<{ session: number; length: number }>();
    const marked = await this.pieces
      .createQueryBuilder('piece')
      .select('piece.session', 'session')
      .addSelect('piece.marks', 'marks')
      .where(`piece.marks <> '[]'`)
      .getRawMany<{ session: number; marks: string }>();
    const found = new Map<number, { recorded: number; marks: string[] }>();
    for (const { session, length } of stretches) {
      const known = found.get(session) ?? { recorded: 0, marks: [] };
      found.set(session, { ...known, recorded: known.recorded + length });
    }
    for (const { session, marks } of marked) found.get(session)?.marks.push(marks);
    return found;
  }

  /** The pieces of one part, in order. */
  piecesOf(session: number, run: number, part: number): Promise<RecordingPiece[]> {
    return this.pieces.find({ where: { session, run, part }, order: { piece: 'ASC' } });
  }

  /** Of every session of which something is kept, the oldest first. */
  sizes(): Promise<RecordedSize[]> {
    return this.pieces
      .createQueryBuilder('piece')
      .select('piece.session', 'session')
      .addSelect('SUM(piece.bytes)', 'bytes')
      .groupBy('piece.session')
      .orderBy('piece.session', 'ASC')
      .getRawMany<RecordedSize>();
  }

  async drop(session: number): Promise<void> {
    await this.pieces.delete({ session });
  }
}
