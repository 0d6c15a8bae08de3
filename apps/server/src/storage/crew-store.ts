import { Inject, Injectable } from '@nestjs/common';
import { getRepositoryToken } from '@nestjs/typeorm';
import type { Repository } from 'typeorm';
import { StoredCrew } from './stored-crew.entity.js';

/** Who drives which train, by session: a train has one crew, a person drives one train. */
@Injectable()
export class CrewStore {
  constructor(
    @Inject(getRepositoryToken(StoredCrew)) private readonly crews: Repository<StoredCrew>,
  ) {}

  of(session: number): Promise<StoredCrew[]> {
    return this.crews.find({ where: { session }, order: { train: 'ASC' } });
  }

  /** Puts a person on a train and off the one they drove; null: nobody drives it any more. */
  async put(session: number, train: number, person: number | null): Promise<void> {
    await this.crews.delete({ session, train });
    if (person === null) return;
    await this.crews.delete({ session, person });
    await this.crews.insert({ session, train, person });
  }
}
