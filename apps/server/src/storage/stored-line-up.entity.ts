import { Column, Entity, PrimaryGeneratedColumn } from 'typeorm';

/** Where the trains stood when a session ended: what the next one may expect. */
@Entity('line_up')
export class StoredLineUp {
  @PrimaryGeneratedColumn()
  id!: number;

  @Column({ type: 'integer' })
  session!: number;

  @Column({ type: 'varchar' })
  layoutHash!: string;

  @Column({ type: 'varchar' })
  stockHash!: string;

  /** ISO 8601, UTC. */
  @Column({ type: 'varchar' })
  savedAt!: string;

  /** JSON array in the shape of a timetable file's `storedPlaces`. */
  @Column({ type: 'text' })
  places!: string;
}
