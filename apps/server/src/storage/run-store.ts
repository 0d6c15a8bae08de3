import { Inject, Injectable } from '@nestjs/common';
import { getRepositoryToken } from '@nestjs/typeorm';
import type { Repository } from 'typeorm';
import { SessionRun } from './session-run.entity.js';
import { SessionSnapshot } from './session-snapshot.entity.js';

export type NewSnapshot = Omit<SessionSnapshot, 'savedAt'>;

/** Snapshots kept of a session. */
const KEPT = 2;

/** How often sessions were opened, by which engine, and snapshots to take them up from. */
@Injectable()
export class RunStore {
  constructor(
    @Inject(getRepositoryToken(SessionRun)) private readonly runs: Repository<SessionRun>,
    @Inject(getRepositoryToken(SessionSnapshot))
    private readonly snapshots: Repository<SessionSnapshot>,
  ) {}

  async opened(
    run: Pick<SessionRun, 'session' | 'run' | 'engine' | 'takenUpTo' | 'faults'>,
  ): Promise<void> {
    await this.runs.insert({ ...run, openedAt: now(), closedAt: null, digest: null });
  }

  async closed(session: number, run: number, digest: string): Promise<void> {
    await this.runs.update({ session, run }, { closedAt: now(), digest });
  }

  /** In order. */
  of(session: number): Promise<SessionRun[]> {
    return this.runs.find({ where: { session }, order: { run: 'ASC' } });
  }

  /** Keeps a snapshot, and of the older ones the last. */
  async saveSnapshot(snapshot: NewSnapshot): Promise<void> {
    await this.snapshots.save({ ...snapshot, savedAt: now() });
    const kept = await this.snapshots.find({
      select: { session: true, run: true, batch: true },
      where: { session: snapshot.session },
      order: { run: 'DESC', batch: 'DESC' },
    });
    for (const { session, run, batch } of kept.slice(KEPT))
      await this.snapshots.delete({ session, run, batch });
  }

  /** The newest first. */
  snapshotsOf(session: number): Promise<SessionSnapshot[]> {
    return this.snapshots.find({ where: { session }, order: { run: 'DESC', batch: 'DESC' } });
  }
}

const now = (): string => new Date().toISOString();
