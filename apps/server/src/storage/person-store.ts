import { Inject, Injectable } from '@nestjs/common';
import { getRepositoryToken } from '@nestjs/typeorm';
import type { Repository } from 'typeorm';
import { StoredPerson } from './stored-person.entity.js';
import { StoredSignIn } from './stored-sign-in.entity.js';

/** People who may sign in, and where they are. What hangs on a person goes with them. */
@Injectable()
export class PersonStore {
  constructor(
    @Inject(getRepositoryToken(StoredPerson)) private readonly people: Repository<StoredPerson>,
    @Inject(getRepositoryToken(StoredSignIn)) private readonly signIns: Repository<StoredSignIn>,
  ) {}

  all(): Promise<StoredPerson[]> {
    return this.people.find({ order: { id: 'ASC' } });
  }

  async add(person: Pick<StoredPerson, 'name' | 'role' | 'secret'>): Promise<StoredPerson> {
    const { identifiers } = await this.people.insert({
      ...person,
      addedAt: new Date().toISOString(),
    });
    return this.people.findOneByOrFail({ id: Number(identifiers[0]?.['id']) });
  }

  async change(id: number, change: Partial<Pick<StoredPerson, 'role' | 'secret'>>): Promise<void> {
    await this.people.update({ id }, change);
  }

  async remove(id: number): Promise<void> {
    await this.people.delete({ id });
  }

  allSignIns(): Promise<StoredSignIn[]> {
    return this.signIns.find();
  }

  async addSignIn(signIn: StoredSignIn): Promise<void> {
    await this.signIns.insert({ ...signIn });
  }

  async removeSignIn(tokenHash: string): Promise<void> {
    await this.signIns.delete({ tokenHash });
  }

  async removeSignInsOf(person: number): Promise<void> {
    await this.signIns.delete({ person });
  }
}
