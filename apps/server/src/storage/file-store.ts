import { Inject, Injectable } from '@nestjs/common';
import { getRepositoryToken } from '@nestjs/typeorm';
import type { Repository } from 'typeorm';
import { StoredFile, type FileKind } from './stored-file.entity.js';

/** A file that was found without fault. */
export interface CheckedFile {
  readonly hash: string;
  readonly kind: FileKind;
  readonly name: string;
  readonly layout: string | null;
  readonly text: string;
}

/** What is said of a file without its text. */
const SUMMARY = ['hash', 'kind', 'name', 'layout', 'storedAt'] as const;
export type FileSummary = Pick<StoredFile, (typeof SUMMARY)[number]>;

/** Files by content: the same content is stored once, and never changes under a session. */
@Injectable()
export class FileStore {
  constructor(
    @Inject(getRepositoryToken(StoredFile)) private readonly files: Repository<StoredFile>,
  ) {}

  async store({ hash, kind, name, layout, text }: CheckedFile): Promise<FileSummary> {
    const storedAt = new Date().toISOString();
    await this.files
      .createQueryBuilder()
      .insert()
      .values({ hash, kind, name, layout, text, storedAt })
      .orIgnore()
      .execute();
    return this.files.findOneOrFail({
      where: { hash },
      select: [...SUMMARY],
    });
  }

  find(hash: string): Promise<StoredFile | null> {
    return this.files.findOneBy({ hash });
  }

  list(): Promise<FileSummary[]> {
    return this.files.find({
      select: [...SUMMARY],
      order: { storedAt: 'ASC', hash: 'ASC' },
    });
  }
}
