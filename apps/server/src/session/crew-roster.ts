import { Inject, Injectable } from '@nestjs/common';
import type { SessionView } from '@blockbell/contract';
import { People } from '../people/people.js';
import { CrewStore } from '../storage/crew-store.js';

/** Who drives which train in the session that runs: a train has one crew, a person drives one train. */
@Injectable()
export class CrewRoster {
  private session = 0;
  /** Person by train. */
  private byTrain = new Map<number, number>();

  constructor(
    @Inject(CrewStore) private readonly store: CrewStore,
    @Inject(People) private readonly people: People,
  ) {}

  /** From now on this session is the one that runs. */
  async open(session: number): Promise<void> {
    const stored = await this.store.of(session);
    this.session = session;
    this.byTrain = new Map(stored.map(({ train, person }) => [train, person]));
  }

  rows(): SessionView['crews'] {
    return [...this.byTrain]
      .sort(([a], [b]) => a - b)
      .flatMap(([train, person]) => {
        const name = this.people.get(person)?.name;
        return name === undefined ? [] : [{ train, name }];
      });
  }

  crewOf(train: number): number | null {
    return this.byTrain.get(train) ?? null;
  }

  trainOf(person: number): number | null {
    for (const [train, crew] of this.byTrain) if (crew === person) return train;
    return null;
  }

  /** Puts a person on a train and off the one they drove; null: nobody drives it any more. */
  async put(train: number, person: number | null): Promise<void> {
    const before = person === null ? null : this.trainOf(person);
    if (before !== null) this.byTrain.delete(before);
    if (person === null) this.byTrain.delete(train);
    else this.byTrain.set(train, person);
    await this.store.put(this.session, train, person);
  }
}
