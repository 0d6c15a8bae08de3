import { Column, Entity, PrimaryColumn } from 'typeorm';

export type FileKind = 'layout' | 'stock' | 'timetable' | 'staging-rules';

/** One version of a layout, stock, timetable or staging-rules file, known by the hash of its content; never changed. */
@Entity('file')
export class StoredFile {
  @PrimaryColumn({ type: 'varchar' })
  hash!: string;

  @Column({ type: 'varchar' })
  kind!: FileKind;

  /** As the file names itself. */
  @Column({ type: 'varchar' })
  name!: string;

  @Column({ type: 'text' })
  text!: string;

  /** ISO 8601, UTC. */
  @Column({ type: 'varchar' })
  storedAt!: string;

  /** Id of the layout it is, or is for; null: it is for any, as stock is. */
  @Column({ type: 'varchar', nullable: true })
  layout!: string | null;
}
