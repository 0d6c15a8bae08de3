import { Column, Entity, PrimaryGeneratedColumn } from 'typeorm';
import type { Role } from '@blockbell/contract';

/** Somebody who may sign in. */
@Entity('person')
export class StoredPerson {
  @PrimaryGeneratedColumn()
  id!: number;

  /** As it stands in the log; unique, whatever the case of its letters. */
  @Column({ type: 'varchar' })
  name!: string;

  @Column({ type: 'varchar' })
  role!: Role;

  /** What a passphrase is checked against, with salt and cost; the passphrase itself is kept nowhere. */
  @Column({ type: 'varchar' })
  secret!: string;

  /** ISO 8601, UTC. */
  @Column({ type: 'varchar' })
  addedAt!: string;
}
