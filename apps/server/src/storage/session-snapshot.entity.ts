import { Column, Entity, PrimaryColumn } from 'typeorm';

/** A session as it was after a batch of its journal: from here on a replay need only take what follows. */
@Entity('session_snapshot')
export class SessionSnapshot {
  @PrimaryColumn({ type: 'integer' })
  session!: number;

  @PrimaryColumn({ type: 'integer' })
  run!: number;

  /** The last batch it holds. */
  @PrimaryColumn({ type: 'integer' })
  batch!: number;

  @Column({ type: 'varchar' })
  engine!: string;

  /** The journal's chain after the batch. */
  @Column({ type: 'varchar' })
  chain!: string;

  /** ISO 8601, UTC. */
  @Column({ type: 'varchar' })
  savedAt!: string;

  /** JSON array in the shape of a timetable file's `storedPlaces`, which any version can read. */
  @Column({ type: 'text' })
  places!: string;

  /** JSON of the engine's memory; only the same version can read it. */
  @Column({ type: 'text' })
  state!: string;

  /** JSON of the simulated layout. */
  @Column({ type: 'text' })
  layout!: string;
}
