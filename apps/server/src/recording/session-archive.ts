import { Inject, Injectable } from '@nestjs/common';
import type { StoredBatch } from '@blockbell/journal';
import {
  readFile,
  type AnyFile,
  type RecordingIndex,
  type StoredSessionView,
} from '@blockbell/contract';
import type { Input, LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { RefusalException } from '../refusal/refusal.exception.js';
import { FileStore } from '../storage/file-store.js';
import type { JournalBatch } from '../storage/journal-batch.entity.js';
import { JournalStore } from '../storage/journal-store.js';
import { RunStore } from '../storage/run-store.js';
import { SessionStore } from '../storage/session-store.js';
import type { StoredSession } from '../storage/stored-session.entity.js';
import type { SummaryAsked } from '../summaries/summarise.js';
import { unpacked } from './packing.js';
import { alarmsIn, indexOf, partsOf } from './recording-index.js';
import { RecordingStore } from './recording-store.js';

/** The files of a session, in the version of the format that this program writes. */
export interface ArchivedFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

/** Stored sessions, to be looked at again. */
@Injectable()
export class SessionArchive {
  constructor(
    @Inject(SessionStore) private readonly sessions: SessionStore,
    @Inject(FileStore) private readonly stored: FileStore,
    @Inject(RecordingStore) private readonly recordings: RecordingStore,
    @Inject(RunStore) private readonly runs: RunStore,
    @Inject(JournalStore) private readonly journal: JournalStore,
  ) {}

  /** The newest first. */
  async list(): Promise<StoredSessionView[]> {
    const summaries = await this.recordings.summaries();
    const sessions = await this.sessions.list();
    return Promise.all(
      sessions.map((session) => {
        const { recorded, marks } = summaries.get(session.id) ?? { recorded: 0, marks: [] };
        return this.view(session, recorded, alarmsIn(marks));
      }),
    );
  }

  async index(id: number): Promise<RecordingIndex> {
    const session = await this.session(id);
    const index = indexOf(await this.recordings.headsOf(id));
    const recorded = index.spans.reduce((sum, { from, until }) => sum + until - from, 0);
    const alarms = index.marks.filter(({ kind }) => kind === 'alarm').length;
    return { session: await this.view(session, recorded, alarms), ...index };
  }

  /** A part as JSON text (`recordingPart` of the contract), not taken apart on its way. */
  async part(id: number, number: number): Promise<string> {
    await this.session(id);
    const found = partsOf(await this.recordings.headsOf(id))[number];
    if (found === undefined)
      throw new RefusalException(404, {
        code: 'unknown-part',
        text: `The recording of session ${id} has no part ${number}; its index lists those there are.`,
      });
    const pieces = await this.recordings.piecesOf(id, found.run, found.part);
    const texts = await Promise.all(
      pieces.slice(0, found.pieces.length).map(({ content }) => unpacked(content)),
    );
    const [snapshot = '', ...lists] = texts;
    const deltas = lists.map((list) => list.slice(1, -1)).filter((inner) => inner !== '');
    return `{"part":${number},"run":${found.run},"snapshot":${snapshot},"deltas":[${deltas.join(',')}]}`;
  }

  async files(id: number): Promise<ArchivedFiles> {
    const { layoutHash, stockHash, timetableHash } = await this.session(id);
    return {
      layout: await this.file<LayoutFile>(layoutHash, 'blockbell-layout'),
      stock: await this.file<StockFile>(stockHash, 'blockbell-stock'),
      timetable: await this.file<TimetableFile>(timetableHash, 'blockbell-timetable'),
    };
  }

  /** What a summary is made of: the files, and all that is written down of all openings. */
  async summaryOf(id: number): Promise<SummaryAsked> {
    const files = await this.files(id);
    const openings: SummaryAsked['openings'][number][] = [];
    for (const { run, takenUpTo } of await this.runs.of(id)) {
      const batches: StoredBatch[] = [];
      for await (const page of this.journal.pagesOf(id, run)) batches.push(...page);
      openings.push({ run, takenUpTo, batches });
    }
    return { ...files, openings };
  }

  private async view(
    { id, name, createdAt, endedAt, ending }: StoredSession,
    recorded: number,
    alarms: number,
  ): Promise<StoredSessionView> {
    const engine = (await this.runs.of(id)).at(-1)?.engine ?? null;
    const length = lengthUpTo(await this.journal.lastInputsOf(id));
    return { id, name, createdAt, endedAt, ending, engine, length, recorded, alarms };
  }

  private async session(id: number): Promise<StoredSession> {
    const found = Number.isSafeInteger(id) ? await this.sessions.find(id) : null;
    if (found !== null) return found;
    throw new RefusalException(404, {
      code: 'unknown-session',
      text: 'No stored session has this number; /api/sessions lists those there are.',
    });
  }

  private async file<T extends ArchivedFiles[keyof ArchivedFiles]>(
    hash: string,
    kind: T['kind'],
  ): Promise<T> {
    const stored = await this.stored.find(hash);
    const read = stored === null ? null : readFile(stored.text);
    if (read?.ok === true && isOfKind<T>(read.file, kind)) return read.file;
    throw new RefusalException(409, {
      code: 'unreadable-file',
      text: `The session’s file ${hash} is not one that this version can read.`,
    });
  }
}

const isOfKind = <T extends ArchivedFiles[keyof ArchivedFiles]>(
  file: AnyFile,
  kind: T['kind'],
): file is T => file.kind === kind;

/** Physical ms from a session's beginning to the last input of a batch; null when the batch is torn. */
function lengthUpTo(batch: JournalBatch | null): number | null {
  if (batch === null) return 0;
  try {
    return (JSON.parse(batch.inputs) as Input[]).at(-1)?.at ?? 0;
  } catch {
    return null;
  }
}
