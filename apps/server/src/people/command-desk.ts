import { Inject, Injectable } from '@nestjs/common';
import type { CommandMessage, CrewMessage, PaceMessage, PersonView } from '@blockbell/contract';
import { refusal, type Refusal } from '@blockbell/railway';
import { SETTINGS, type Settings } from '../config/settings.js';
import { CrewRoster } from '../session/crew-roster.js';
import { SessionService } from '../session/session.service.js';
import { refuseAct, type Asker } from './leave.js';
import { People } from './people.js';

/** Takes what people ask of the session: in the name of who is signed in, and only what their role allows. */
@Injectable()
export class CommandDesk {
  constructor(
    @Inject(SETTINGS) private readonly settings: Settings,
    @Inject(SessionService) private readonly sessions: SessionService,
    @Inject(CrewRoster) private readonly crews: CrewRoster,
    @Inject(People) private readonly people: People,
  ) {}

  give(asker: Asker, { by, command, seen }: CommandMessage): Promise<Refusal | null> {
    const own =
      asker !== null && 'train' in command && this.crews.crewOf(command.train) === asker.id;
    const refused = refuseAct(asker, command.kind, own);
    if (refused !== null) return Promise.resolve(refused);
    return this.sessions.give(asker?.name ?? by, command, seen);
  }

  async setPace(asker: Asker, { by, pace }: PaceMessage): Promise<Refusal | null> {
    return refuseAct(asker, 'set-pace') ?? (await this.sessions.setPace(asker?.name ?? by, pace));
  }

  /** Puts a crew on a train, or off it. A crew may do so for itself, with a train that nobody drives. */
  async putCrew(asker: Asker, { by, train, crew }: CrewMessage): Promise<Refusal | null> {
    if (!this.settings.open) return NO_SIGN_IN;
    const person = crew === null ? null : this.people.called(crew);
    const refused =
      refuseAct(asker, 'put-crew', this.forThemself(asker, train, person)) ??
      this.refuseCrew(train, crew, person);
    if (refused !== null) return refused;
    const name = asker?.name ?? by;
    const before = person === null ? null : this.crews.trainOf(person.id);
    await this.crews.put(train, person?.id ?? null);
    if (before !== null && before !== train) await this.sessions.stopUndriven(name, before, NOBODY);
    await this.sessions.stopUndriven(name, train, NOBODY);
    this.sessions.say(crewWords(name, person, this.labelOf(train) ?? `${train}`));
    return null;
  }

  /** A person is gone for good, or their link is: the train they drive doesn't run on without them. */
  async leftAlone({ id, name }: PersonView): Promise<void> {
    const train = this.crews.trainOf(id);
    const why = `the link of ${name}, who drives it, is lost`;
    if (train !== null) await this.sessions.stopUndriven(name, train, why);
  }

  /** Takes a person off the train they drive, before they are removed. */
  async dismiss(asker: Asker, { id, name }: PersonView): Promise<void> {
    const train = this.crews.trainOf(id);
    if (train === null) return;
    await this.crews.put(train, null);
    await this.sessions.stopUndriven(asker?.name ?? 'server', train, NOBODY);
    this.sessions.say(`${name} is no longer the crew of ${this.labelOf(train) ?? train}.`);
  }

  private forThemself(asker: Asker, train: number, person: PersonView | null): boolean {
    if (asker === null) return false;
    const present = this.crews.crewOf(train);
    if (present === asker.id) return person === null || person.id === asker.id;
    return present === null && person?.id === asker.id;
  }

  private refuseCrew(
    train: number,
    crew: string | null,
    person: PersonView | null,
  ): Refusal | null {
    if (this.labelOf(train) === undefined)
      return refusal('unknown-number', `There is no train ${train} in this session.`);
    if (crew !== null && person === null)
      return refusal('unknown-person', `Nobody called “${crew}” may sign in here.`);
    if (person?.role === 'visitor')
      return refusal(
        'not-allowed',
        `${person.name} is a visitor, who looks on and drives no train.`,
      );
    return null;
  }

  private labelOf(train: number): string | undefined {
    return this.sessions.files().world.stock.trains[train]?.file.label;
  }
}

function crewWords(by: string, person: PersonView | null, train: string): string {
  if (person === null) return `${by} took the crew off ${train}.`;
  if (person.name === by) return `${by} drives ${train} from now on.`;
  return `${by} put ${person.name} on ${train} as its crew.`;
}

/** Why a train in hand is told to stop when its crew goes. */
const NOBODY = 'whoever drove it is no longer its crew';

const NO_SIGN_IN = refusal(
  'no-sign-in',
  'Crews are put on trains where people sign in; this server is not open to the network, so whoever is here may drive any train.',
);
