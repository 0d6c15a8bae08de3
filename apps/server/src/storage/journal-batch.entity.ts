import { Column, Entity, PrimaryColumn } from 'typeorm';

/** The engine's inputs of at most 100 ms, in order. */
@Entity('journal_batch')
export class JournalBatch {
  @PrimaryColumn({ type: 'integer' })
  session!: number;

  @PrimaryColumn({ type: 'integer' })
  run!: number;

  @PrimaryColumn({ type: 'integer' })
  batch!: number;

  /** Engine revision after the last input. */
  @Column({ type: 'integer' })
  revision!: number;

  /** JSON array of inputs. */
  @Column({ type: 'text' })
  inputs!: string;

  /** SHA-256 over the chain of the batch before and, one after the other, the JSON of each step's effects. */
  @Column({ type: 'varchar' })
  chain!: string;
}
