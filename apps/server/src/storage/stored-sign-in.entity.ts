import { Column, Entity, PrimaryColumn } from 'typeorm';

/** A browser in which somebody is signed in. */
@Entity('sign_in')
export class StoredSignIn {
  /** SHA-256 of the token in the browser's cookie, which itself is kept nowhere else. */
  @PrimaryColumn({ type: 'varchar' })
  tokenHash!: string;

  @Column({ type: 'integer' })
  person!: number;

  /** ISO 8601, UTC. */
  @Column({ type: 'varchar' })
  expiresAt!: string;
}
