import { Inject, Injectable } from '@nestjs/common';
import { getRepositoryToken } from '@nestjs/typeorm';
import type { StoredBatch } from '@blockbell/journal';
import { MoreThan, Not, type Repository } from 'typeorm';
import { JournalBatch } from './journal-batch.entity.js';
import { JournalEntry } from './journal-entry.entity.js';

/** Rows that go to disk together. */
export interface JournalRows {
  readonly batch: JournalBatch;
  readonly entries: readonly JournalEntry[];
}

/** A statement holds a limited number of values; entries go in parts. */
const ENTRIES_A_STATEMENT = 100;
/** Batches that are read at once: a few milliseconds. */
const BATCHES_A_PAGE = 500;

/** Writes journal rows and reads them back. */
@Injectable()
export class JournalStore {
  constructor(
    @Inject(getRepositoryToken(JournalBatch)) private readonly batches: Repository<JournalBatch>,
    @Inject(getRepositoryToken(JournalEntry)) private readonly entries: Repository<JournalEntry>,
  ) {}

  /** Entries first: a batch that is there has its entries too. May be repeated after a failure. */
  async write({ batch, entries }: JournalRows): Promise<void> {
    for (let from = 0; from < entries.length; from += ENTRIES_A_STATEMENT)
      await this.entries
        .createQueryBuilder()
        .insert()
        .values(entries.slice(from, from + ENTRIES_A_STATEMENT))
        .orIgnore()
        .execute();
    await this.batches.createQueryBuilder().insert().values(batch).orIgnore().execute();
  }

  batchesOf(session: number, run: number): Promise<JournalBatch[]> {
    return this.batches.find({ where: { session, run }, order: { batch: 'ASC' } });
  }

  /** All of them, in order, some at a time: whoever reads a long session lets others in between. */
  async *pagesOf(session: number, run: number): AsyncGenerator<StoredBatch[]> {
    let after = -1;
    for (;;) {
      const page = await this.batches.find({
        select: { batch: true, inputs: true, chain: true },
        where: { session, run, batch: MoreThan(after) },
        order: { batch: 'ASC' },
        take: BATCHES_A_PAGE,
      });
      if (page.length > 0) yield page.map(({ batch, inputs, chain }) => ({ batch, inputs, chain }));
      if (page.length < BATCHES_A_PAGE) return;
      after = page.at(-1)!.batch;
    }
  }

  /** Those after a batch, in order. */
  batchesAfter(session: number, run: number, batch: number): Promise<JournalBatch[]> {
    return this.batches.find({
      where: { session, run, batch: MoreThan(batch) },
      order: { batch: 'ASC' },
    });
  }

  /** The last entries of all its openings, the oldest first. */
  async lastEntriesOf(session: number, count: number): Promise<JournalEntry[]> {
    const newest = await this.entries.find({
      where: { session },
      order: { run: 'DESC', number: 'DESC' },
      take: count,
    });
    return newest.reverse();
  }

  /** The last batch of it that holds an input; null: nothing has happened. */
  lastInputsOf(session: number): Promise<JournalBatch | null> {
    return this.batches.findOne({
      where: { session, inputs: Not('[]') },
      order: { run: 'DESC', batch: 'DESC' },
    });
  }

  entriesOf(session: number, run: number): Promise<JournalEntry[]> {
    return this.entries.find({ where: { session, run }, order: { number: 'ASC' } });
  }
}
