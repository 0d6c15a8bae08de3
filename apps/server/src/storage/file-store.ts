import { Inject, Injectable } from '@nestjs/common';
import { getRepositoryToken } from '@nestjs/typeorm';
import type { Repository } from 'typeorm';
import { StoredFile, type FileKind } from './stored-file.entity.js';

/** A file that was found without fault. */
export interface CheckedFile {
  readonly hash: string;
  readonly kind: FileKind;
  readonly name: string;
  readonly text: string;
}

export type FileSummary = Pick<StoredFile, 'hash' | 'kind' | 'name' | 'storedAt'>;

/** Files by content: the same content is stored once, and never changes under a session. */
@Injectable()
export class FileStore {
  constructor(
    @Inject(getRepositoryToken(StoredFile)) private readonly files: Repository<StoredFile>,
  ) {}

  async store({ hash, kind, name, text }: CheckedFile): Promise<FileSummary> {
    const storedAt = new Date().toISOString();
    await this.files
      .createQueryBuilder()
      .insert()
      .values({ hash, kind, name, text, storedAt })
      .orIgnore()
      .execute();
    return this.files.findOneOrFail({
      where: { hash },
      select: { hash: true, kind: true, name: true, storedAt: true },
    });
  }

  find(hash: string): Promise<StoredFile | null> {
    return this.files.findOneBy({ hash });
  }

  list(): Promise<FileSummary[]> {
    return this.files.find({
      select: { hash: true, kind: true, name: true, storedAt: true },
      order: { storedAt: 'ASC', hash: 'ASC' },
    });
  }
}
