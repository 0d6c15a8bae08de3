import { Column, Entity, PrimaryColumn } from 'typeorm';

/**
 * A stretch of a session's recording. Piece 0 of a part is its key frame, a whole snapshot; the others hold the deltas
 * after it, in order.
 */
@Entity('recording_piece')
export class RecordingPiece {
  @PrimaryColumn({ type: 'integer' })
  session!: number;

  @PrimaryColumn({ type: 'integer' })
  run!: number;

  @PrimaryColumn({ type: 'integer' })
  part!: number;

  @PrimaryColumn({ type: 'integer' })
  piece!: number;

  /** Physical ms of the session at which it begins. */
  @Column({ type: 'integer' })
  from!: number;

  @Column({ type: 'integer' })
  until!: number;

  /** Fast-clock ms at which it begins. */
  @Column({ type: 'integer' })
  fromFast!: number;

  @Column({ type: 'integer' })
  untilFast!: number;

  /** Of the picture it continues from; of a key frame its own. */
  @Column({ type: 'integer' })
  fromRevision!: number;

  /** Of the picture it leads to. */
  @Column({ type: 'integer' })
  revision!: number;

  /** JSON array: what happened in it that is worth going to. */
  @Column({ type: 'text' })
  marks!: string;

  /** Of the content. */
  @Column({ type: 'integer' })
  bytes!: number;

  /** Compressed (raw deflate) JSON: a snapshot, or an array of deltas. */
  @Column({ type: 'blob' })
  content!: Buffer;
}
