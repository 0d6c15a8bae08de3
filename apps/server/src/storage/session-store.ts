import { Inject, Injectable } from '@nestjs/common';
import { getRepositoryToken } from '@nestjs/typeorm';
import type { storedPlaces } from '@blockbell/railway';
import { IsNull, type Repository } from 'typeorm';
import { StoredLineUp } from './stored-line-up.entity.js';
import { StoredSession } from './stored-session.entity.js';

export type NewSession = Pick<StoredSession, 'name' | 'layoutHash' | 'stockHash' | 'timetableHash'>;

/** Sessions and the line-ups they leave. At most one session is unfinished. */
@Injectable()
export class SessionStore {
  constructor(
    @Inject(getRepositoryToken(StoredSession))
    private readonly sessions: Repository<StoredSession>,
    @Inject(getRepositoryToken(StoredLineUp))
    private readonly lineUps: Repository<StoredLineUp>,
  ) {}

  async create(session: NewSession): Promise<StoredSession> {
    const row = { ...session, createdAt: now(), endedAt: null, ending: null, runs: 0 };
    const { identifiers } = await this.sessions.insert(row);
    const id = Number(identifiers[0]?.['id']);
    return this.sessions.findOneByOrFail({ id });
  }

  /** The session that was not ended, if there is one; the newest of several. */
  unfinished(): Promise<StoredSession | null> {
    return this.sessions.findOne({ where: { endedAt: IsNull() }, order: { id: 'DESC' } });
  }

  find(id: number): Promise<StoredSession | null> {
    return this.sessions.findOneBy({ id });
  }

  /** All of them, the newest first. */
  list(): Promise<StoredSession[]> {
    return this.sessions.find({ order: { id: 'DESC' } });
  }

  /** Counts a further opening; returns its number, from 1. */
  async opened(session: StoredSession): Promise<number> {
    await this.sessions.increment({ id: session.id }, 'runs', 1);
    const { runs } = await this.sessions.findOneByOrFail({ id: session.id });
    return runs;
  }

  async ended(id: number, ending: string): Promise<void> {
    await this.sessions.update({ id, endedAt: IsNull() }, { endedAt: now(), ending });
  }

  /** The last line-up that the session left. */
  lineUpOf(session: number): Promise<StoredLineUp | null> {
    return this.lineUps.findOne({ where: { session }, order: { id: 'DESC' } });
  }

  async saveLineUp(session: StoredSession, places: ReturnType<typeof storedPlaces>): Promise<void> {
    await this.lineUps.insert({
      session: session.id,
      layoutHash: session.layoutHash,
      stockHash: session.stockHash,
      savedAt: now(),
      places: JSON.stringify(places),
    });
  }
}

const now = (): string => new Date().toISOString();
