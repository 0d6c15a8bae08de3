import { Column, Entity, PrimaryColumn } from 'typeorm';

export type FileKind = 'layout' | 'stock' | 'timetable';

/** One version of a layout, stock or timetable file, known by the hash of its content; never changed. */
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
}
