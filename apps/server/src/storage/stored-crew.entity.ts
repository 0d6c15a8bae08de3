import { Column, Entity, PrimaryColumn } from 'typeorm';

/** Who drives a train in a session. */
@Entity('crew')
export class StoredCrew {
  @PrimaryColumn({ type: 'integer' })
  session!: number;

  /** Compiled index in the session's stock. */
  @PrimaryColumn({ type: 'integer' })
  train!: number;

  @Column({ type: 'integer' })
  person!: number;
}
