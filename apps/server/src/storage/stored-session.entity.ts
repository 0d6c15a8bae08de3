import { Column, Entity, PrimaryGeneratedColumn } from 'typeorm';

/** A session and the files it is frozen to. */
@Entity('session')
export class StoredSession {
  @PrimaryGeneratedColumn()
  id!: number;

  @Column({ type: 'varchar' })
  name!: string;

  @Column({ type: 'varchar' })
  layoutHash!: string;

  @Column({ type: 'varchar' })
  stockHash!: string;

  @Column({ type: 'varchar' })
  timetableHash!: string;

  /** ISO 8601, UTC. */
  @Column({ type: 'varchar' })
  createdAt!: string;

  /** Null while it goes on. */
  @Column({ type: 'varchar', nullable: true })
  endedAt!: string | null;

  /** How it ended, in words. */
  @Column({ type: 'varchar', nullable: true })
  ending!: string | null;

  /** How often the server opened it: each time the engine begins anew, and so does the journal's chain. */
  @Column({ type: 'integer' })
  runs!: number;
}
