import { Inject, Injectable, type OnModuleInit } from '@nestjs/common';
import type { PersonView, Role } from '@blockbell/contract';
import { PersonStore } from '../storage/person-store.js';
import type { StoredPerson } from '../storage/stored-person.entity.js';
import { RefusalException } from '../refusal/refusal.exception.js';
import { isPassphrase, secretOf } from './passphrase.js';

/** Everybody who may sign in. They are few: all are kept at hand, and written through. */
@Injectable()
export class People implements OnModuleInit {
  private readonly byId = new Map<number, StoredPerson>();
  private readonly listeners: ((id: number) => void)[] = [];

  /** A secret of no passphrase, so that a name nobody has takes as long to refuse as a wrong passphrase. */
  private nobodysSecret: Promise<string> | null = null;

  constructor(@Inject(PersonStore) private readonly store: PersonStore) {}

  async onModuleInit(): Promise<void> {
    for (const person of await this.store.all()) this.byId.set(person.id, person);
  }

  get(id: number): PersonView | null {
    const found = this.byId.get(id);
    return found === undefined ? null : viewOf(found);
  }

  /** By name, whatever the case of its letters. */
  called(name: string): PersonView | null {
    const found = this.stored(name);
    return found === undefined ? null : viewOf(found);
  }

  list(): PersonView[] {
    return [...this.byId.values()].map(viewOf);
  }

  get hasBuilder(): boolean {
    return this.builders() > 0;
  }

  /** The person with this name and passphrase, or null. */
  async check(name: string, passphrase: string): Promise<PersonView | null> {
    const found = this.stored(name);
    this.nobodysSecret ??= secretOf('');
    const right = await isPassphrase(passphrase, found?.secret ?? (await this.nobodysSecret));
    return right && found !== undefined ? this.get(found.id) : null;
  }

  async add(name: string, role: Role, passphrase: string): Promise<PersonView> {
    const secret = await secretOf(passphrase);
    if (this.stored(name) !== undefined)
      throw new RefusalException(409, {
        code: 'name-taken',
        text: `There is somebody called “${name}” already; choose another name.`,
      });
    const person = await this.store.add({ name, role, secret });
    this.byId.set(person.id, person);
    return viewOf(person);
  }

  async change(id: number, change: { role?: Role; passphrase?: string }): Promise<PersonView> {
    const person = this.required(id);
    const { role, passphrase } = change;
    if (role !== undefined && role !== 'builder') this.keepOneBuilder(person);
    const secret = passphrase === undefined ? undefined : await secretOf(passphrase);
    const changed = {
      ...(role === undefined ? {} : { role }),
      ...(secret === undefined ? {} : { secret }),
    };
    await this.store.change(id, changed);
    const hadRole = person.role;
    Object.assign(person, changed);
    if (person.role !== hadRole) this.changed(id);
    return viewOf(person);
  }

  /** The person, if they may be removed. */
  removable(id: number): PersonView {
    const person = this.required(id);
    this.keepOneBuilder(person);
    return viewOf(person);
  }

  async remove(id: number): Promise<void> {
    this.removable(id);
    await this.store.remove(id);
    this.byId.delete(id);
    this.changed(id);
  }

  /** Tells of everybody who gets another role or is removed. */
  onChange(listener: (id: number) => void): void {
    this.listeners.push(listener);
  }

  private changed(id: number): void {
    for (const tell of this.listeners) tell(id);
  }

  private stored(name: string): StoredPerson | undefined {
    const wanted = name.toLowerCase();
    return [...this.byId.values()].find((person) => person.name.toLowerCase() === wanted);
  }

  private required(id: number): StoredPerson {
    const found = this.byId.get(id);
    if (found !== undefined) return found;
    throw new RefusalException(404, {
      code: 'unknown-person',
      text: 'There is no such person any more; look at the list again.',
    });
  }

  /** Without a builder nobody could add people or mend a forgotten passphrase. */
  private keepOneBuilder({ name, role }: StoredPerson): void {
    if (role !== 'builder' || this.builders() > 1) return;
    throw new RefusalException(409, {
      code: 'last-builder',
      text: `${name} is the only builder; make somebody else a builder first.`,
    });
  }

  private builders(): number {
    return [...this.byId.values()].filter(({ role }) => role === 'builder').length;
  }
}

const viewOf = ({ id, name, role }: StoredPerson): PersonView => ({ id, name, role });
