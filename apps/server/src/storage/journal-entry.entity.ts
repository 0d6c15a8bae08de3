import { Column, Entity, PrimaryColumn } from 'typeorm';

export type EntryKind = 'decision' | 'alarm' | 'refusal';

/** What was decided, raised or refused, in words. */
@Entity('journal_entry')
export class JournalEntry {
  @PrimaryColumn({ type: 'integer' })
  session!: number;

  @PrimaryColumn({ type: 'integer' })
  run!: number;

  @PrimaryColumn({ type: 'integer' })
  number!: number;

  @Column({ type: 'varchar' })
  kind!: EntryKind;

  /** Physical ms of the session. */
  @Column({ type: 'integer' })
  at!: number;

  /** Fast-clock ms. */
  @Column({ type: 'integer' })
  fast!: number;

  @Column({ type: 'integer', nullable: true })
  train!: number | null;

  @Column({ type: 'text' })
  text!: string;
}
