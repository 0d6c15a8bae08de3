import {
  readStagingRules,
  storedFileAnswer,
  type StoredFileView,
} from '@blockbell/contract/messages';
import {
  compileWorld,
  useWork,
  validateStagingRules,
  type Fault,
  type StagingRulesFile,
  type World,
  type YardRulesFile,
} from '@blockbell/railway';
import {
  bookedYard,
  keptOut,
  keptOutText,
  tryRules,
  type BookedYard,
  type Trial,
} from '@blockbell/staging';
import { exampleRules } from '@blockbell/examples/rules';
import type { Railway } from '../live/session-files.js';
import { request } from '../people/requests.js';
import { filesFor, storedFiles } from '../shared/stored-files.js';
import { RulesSetAside } from './rules-set-aside.js';

/** What a yard's rules came to when they were tried on the timetable, and the other rules' beside them, where there are some. */
export interface TriedRules {
  readonly rules: YardRulesFile;
  readonly trial: Trial;
  readonly against: Trial | null;
}

/** The rules of the staging yards as they are worked on at this page, and what follows from the session's files. */
export class StagingDesk {
  /** Null until there is a railway. */
  file = $state.raw<StagingRulesFile | null>(null);
  /** What the server keeps; null until it was asked. */
  #stored = $state.raw<readonly StoredFileView[] | null>(null);
  /** What the last trial came to, by id of the yard; of rules that were changed since, none. */
  tried = $state.raw<Readonly<Record<string, TriedRules>>>({});
  /** Other rules, with which these are compared when they are tried; null: none. */
  against = $state.raw<StagingRulesFile | null>(null);
  #railway = $state.raw<Railway | null>(null);
  /** Of rules for other layouts, what is saved nowhere, as a sentence; null: nothing. */
  notSaved = $state.raw<string | null>(null);
  #before = $state.raw<readonly StagingRulesFile[]>([]);
  readonly #aside = new RulesSetAside();
  /** These rules as they were begun, or saved last; null: never in this form. */
  #asSaved: StagingRulesFile | null = null;

  /** Rules for this layout that are kept by the server, the newest first; null until it was asked. */
  readonly kept = $derived(
    this.#railway === null || this.#stored === null
      ? null
      : filesFor(this.#stored, 'staging-rules', this.#railway.files.layout.id),
  );
  /** The timetable's work on this railway; compiled with the first look at the screen. */
  readonly world = $derived(this.#railway === null ? null : worldOf(this.#railway));
  readonly yards = $derived(this.world === null ? [] : yardsOf(this.world));
  /** By yard: trains that can't use some of its tracks, for they would have to run round there. */
  readonly keptOut = $derived(
    this.yards.map((yard) => keptOut(this.world!, yard).map((it) => keptOutText(this.world!, it))),
  );
  readonly faults = $derived(this.#faults());

  /** Rules that come with the layout; null: none do. */
  get example(): StagingRulesFile | null {
    return this.#railway === null ? null : exampleRules(this.#railway.layout.file.id);
  }

  get mayUndo(): boolean {
    return this.#before.length > 0;
  }

  /** This railway runs. Rules for its layout are kept through other sessions, whatever layout those run on. */
  attend(railway: Railway): void {
    if (this.#railway === railway) return;
    this.#railway = railway;
    if (this.file?.layout !== railway.layout.file.id) {
      this.#takeBack(railway);
      this.against = null;
    }
    this.tried = {};
  }

  /** Sets the rules for another layout aside, and goes on with those for this one, where there are some. */
  #takeBack(railway: Railway): void {
    const { file } = this;
    if (file !== null)
      this.#aside.put({ file, before: this.#before, unsaved: file !== this.#asSaved });
    const back = this.#aside.take(railway.layout.file.id);
    this.file = back?.file ?? freshRules(railway);
    this.#before = back?.before ?? [];
    this.#asSaved = back?.unsaved === true ? null : this.file;
    this.notSaved = this.#aside.words;
  }

  /** Sets rules beside these, to be compared with when they are tried next. */
  compareWith(rules: StagingRulesFile | null): void {
    this.against = rules;
    this.tried = {};
  }

  /** Sets rules beside these that are kept. Null, or why not. */
  async compareWithKept(hash: string): Promise<string | null> {
    const asked = await request('GET', `files/${hash}`, ANYTHING);
    if (!asked.ok) return asked.why;
    const read = this.#parsed(JSON.stringify(asked.answer));
    if (typeof read === 'string') return read;
    this.compareWith(read);
    return null;
  }

  rulesOf(yard: BookedYard): YardRulesFile | null {
    const id = this.world?.layout.stations[yard.station]?.file.id;
    return this.file?.yards.find((it) => it.yard === id) ?? null;
  }

  /** Takes a change of one yard's rules, so that it can be undone. */
  change(rules: YardRulesFile): void {
    const { file } = this;
    if (file === null) return;
    const isNew = !file.yards.some(({ yard }) => yard === rules.yard);
    const yards = isNew
      ? [...file.yards, rules]
      : file.yards.map((it) => (it.yard === rules.yard ? rules : it));
    this.take({ ...file, yards });
  }

  /** Rules to begin with, for a yard that has none. */
  begin(yard: YardRulesFile['yard']): void {
    this.change(freshYard(yard));
  }

  take(file: StagingRulesFile): void {
    if (this.file !== null) this.#before = [...this.#before, this.file];
    this.file = file;
    this.tried = {};
  }

  undo(): void {
    const before = this.#before.at(-1);
    if (before === undefined) return;
    this.#before = this.#before.slice(0, -1);
    this.file = before;
    this.tried = {};
  }

  /** Reads rules from a file's text. Null, or why not: all its faults. */
  read(text: string): string | null {
    const read = this.#parsed(text);
    if (typeof read === 'string') return read;
    this.take(read);
    return null;
  }

  /** The rules in a text, or all its faults. */
  #parsed(text: string): StagingRulesFile | string {
    const { layout, stock } = this.#railway!;
    const read = readStagingRules(text, layout, stock);
    return read.ok ? read.file : read.faults.map(faultText).join('\n');
  }

  /** Tries the rules of every yard on the timetable. */
  try(): void {
    const { world } = this;
    if (world === null || this.faults.length > 0) return;
    this.tried = Object.fromEntries(
      this.yards.flatMap((yard) => {
        const rules = this.rulesOf(yard);
        if (rules === null) return [];
        const other = this.against?.yards.find((it) => it.yard === rules.yard);
        const against = other === undefined ? null : tryRules(world, yard, other);
        return [[rules.yard, { rules, trial: tryRules(world, yard, rules), against }] as const];
      }),
    );
  }

  async listKept(): Promise<void> {
    this.#stored = (await storedFiles()) ?? this.#stored;
  }

  /** Takes rules that are kept. Null, or why not. */
  async open(hash: string): Promise<string | null> {
    const asked = await request('GET', `files/${hash}`, ANYTHING);
    if (!asked.ok) return asked.why;
    const refused = this.read(JSON.stringify(asked.answer));
    if (refused === null) this.#asSaved = this.file;
    return refused;
  }

  rename(name: string): void {
    if (this.file !== null) this.file = { ...this.file, name };
  }

  /** Keeps the rules under their name, beside the other files. Null, or why not. */
  async keep(): Promise<string | null> {
    const { file } = this;
    if (file === null) return null;
    const asked = await request('POST', 'files', storedFileAnswer, file);
    if (!asked.ok) return asked.why;
    this.#asSaved = file;
    await this.listKept();
    return null;
  }

  #faults(): readonly Fault[] {
    if (this.file === null || this.#railway === null) return [];
    return validateStagingRules(this.file, this.#railway.layout, this.#railway.stock);
  }
}

/** A file is checked where it is read. */
const ANYTHING = { safeParse: (data: unknown) => ({ success: true as const, data }) };

export const faultText = ({ place, text, mend }: Fault): string => `${place}: ${text}; ${mend}.`;

function worldOf({ files, layout, added }: Railway): World {
  const world = compileWorld(files.layout, files.stock, files.timetable, layout);
  if (added !== null) useWork(world, added);
  return world;
}

const yardsOf = (world: World): readonly BookedYard[] =>
  world.layout.stations.flatMap(({ file, index }) =>
    file.kind === 'staging-yard' ? [bookedYard(world, index)] : [],
  );

const freshRules = ({ layout }: Railway): StagingRulesFile => ({
  kind: 'blockbell-staging-rules',
  version: 1,
  id: 'staging-rules',
  name: 'Staging rules',
  layout: layout.file.id,
  yards: layout.stations.flatMap(({ file }) =>
    file.kind === 'staging-yard' ? [freshYard(file.id)] : [],
  ),
});

/** Rules to begin with: the nearest fit that buries nobody, else any, else a person is asked. */
const freshYard = (yard: YardRulesFile['yard']): YardRulesFile => ({
  yard,
  arrivals: [{ only: { is: 'burying-nobody' }, order: [{ by: 'call' }, { by: 'least-spare' }] }],
  nothingFits: [{ do: 'take', order: [{ by: 'fewest-buried' }] }, { do: 'ask' }],
  departures: { order: [{ by: 'timetable' }], requests: [] },
  moveUp: 'on-arrival',
});
