import { Column, Entity, PrimaryColumn } from 'typeorm';

/** One opening of a session by a server: the first begins it, a later one takes it up after a restart. */
@Entity('session_run')
export class SessionRun {
  @PrimaryColumn({ type: 'integer' })
  session!: number;

  /** From 1. */
  @PrimaryColumn({ type: 'integer' })
  run!: number;

  /** ISO 8601, UTC. */
  @Column({ type: 'varchar' })
  openedAt!: string;

  /** Version of the engine that ran; only the same one need replay the run to the same bytes. */
  @Column({ type: 'varchar' })
  engine!: string;

  /** The last batch of the run before that was taken over; -1: none, and the session is as it began. */
  @Column({ type: 'integer' })
  takenUpTo!: number;

  /** JSON array of the faults scripted on the simulated layout. */
  @Column({ type: 'text' })
  faults!: string;

  /** ISO 8601, UTC; null when the server was killed, or the run goes on. */
  @Column({ type: 'varchar', nullable: true })
  closedAt!: string | null;

  /** Content hash of the engine's state at the end of the journal; null as above. */
  @Column({ type: 'varchar', nullable: true })
  digest!: string | null;
}
