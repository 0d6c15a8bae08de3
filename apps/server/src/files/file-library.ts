import { Inject, Injectable } from '@nestjs/common';
import { EXAMPLE_NAMES, exampleFiles } from '@blockbell/examples';
import { readStagingRules } from '@blockbell/contract';
import {
  compileLayout,
  compileStock,
  type Fault,
  type LayoutFile,
  type StagingRulesFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import { RefusalException } from '../refusal/refusal.exception.js';
import { FileStore, type FileSummary } from '../storage/file-store.js';
import type { StoredSession } from '../storage/stored-session.entity.js';
import {
  checkFile,
  checkTogether,
  timetableIn,
  type SessionFiles,
  type Trio,
} from './check-files.js';

/** Checks files, keeps them, and brings together what a session runs on. What is wrong is refused with every fault. */
@Injectable()
export class FileLibrary {
  constructor(@Inject(FileStore) private readonly files: FileStore) {}

  exampleNames(): readonly string[] {
    return EXAMPLE_NAMES;
  }

  list(): Promise<FileSummary[]> {
    return this.files.list();
  }

  async find(hash: string): Promise<object> {
    return JSON.parse(await this.textOf(hash)) as object;
  }

  /** Checks one file by itself and keeps it. */
  async store(value: unknown): Promise<FileSummary> {
    const checked = checkFile(JSON.stringify(value ?? null));
    if ('faults' in checked) throw faulty(checked.faults);
    return this.files.store(checked);
  }

  async example(name: string): Promise<SessionFiles> {
    const known = EXAMPLE_NAMES.find((example) => example === name);
    if (known === undefined)
      throw new RefusalException(404, {
        code: 'unknown-example',
        text: `There is no example “${name}”; there are: ${EXAMPLE_NAMES.join(', ')}.`,
      });
    return this.accept(exampleFiles(known));
  }

  /** Three files, each by itself or by the hash of a stored one; checked together, and kept. */
  async together(given: Trio<string | object>): Promise<SessionFiles> {
    return this.accept({
      layout: await this.textFor(given.layout),
      stock: await this.textFor(given.stock),
      timetable: await this.textFor(given.timetable),
    });
  }

  /** A timetable by itself or by the hash of a stored one, readable but not checked further. */
  async timetable(given: string | object): Promise<TimetableFile> {
    const found = timetableIn(await this.textFor(given));
    if ('faults' in found) throw faulty(found.faults);
    return found;
  }

  /** Stored staging rules for a layout and its stock, which are sound. */
  async stagingRules(
    hash: string,
    layout: LayoutFile,
    stock: StockFile,
  ): Promise<StagingRulesFile> {
    const text = await this.textOf(hash);
    const read = readStagingRules(text, compileLayout(layout), compileStock(stock));
    if (!read.ok) throw faulty(read.faults);
    return read.file;
  }

  /** What a stored session runs on; null when this version accepts its files no longer. */
  async filesOf(session: StoredSession): Promise<SessionFiles | null> {
    const checked = checkTogether({
      layout: await this.textOf(session.layoutHash),
      stock: await this.textOf(session.stockHash),
      timetable: await this.textOf(session.timetableHash),
    });
    return 'faults' in checked ? null : checked.files;
  }

  private async accept(texts: Trio<string>): Promise<SessionFiles> {
    const checked = checkTogether(texts);
    if ('faults' in checked) throw faulty(checked.faults);
    for (const file of checked.stored) await this.files.store(file);
    return checked.files;
  }

  private async textFor(given: string | object): Promise<string> {
    return typeof given === 'string' ? this.textOf(given) : JSON.stringify(given);
  }

  private async textOf(hash: string): Promise<string> {
    const stored = await this.files.find(hash);
    if (stored === null)
      throw new RefusalException(404, {
        code: 'unknown-file',
        text: `No stored file has the hash ${hash}; /api/files lists those there are.`,
      });
    return stored.text;
  }
}

function faulty(faults: readonly Fault[]): RefusalException {
  const first = faults[0]!;
  const place = first.file === undefined ? first.place : `${first.file}, ${first.place}`;
  const count = faults.length === 1 ? 'One fault was' : `${faults.length} faults were`;
  const text = `${count} found. The first, at ${place}: ${first.text}; ${first.mend}.`;
  return new RefusalException(422, { code: 'faulty-file', text }, faults);
}
