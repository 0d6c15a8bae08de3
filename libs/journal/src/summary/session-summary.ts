import {
  createSession,
  fastNow,
  hasRun,
  step,
  trackText,
  type CallRecord,
  type EngineState,
  type Input,
  type World,
} from '@blockbell/railway';
import { IdentityQuality, type DetectorQuality } from './identity-quality.js';

/** How a session went: plain data with every name in words. Times in whole fast-clock ms where not said. */
export interface SessionSummary {
  readonly kind: 'blockbell-session-summary';
  readonly version: 1;
  readonly layout: string;
  readonly timetable: string;
  /** Physical ms of running, and the fast-clock time at the end of what is known, ms since midnight. */
  readonly duration: number;
  readonly fast: number;
  readonly services: readonly ServiceSummary[];
  readonly alarms: readonly AlarmSummary[];
  readonly locomotives: readonly LocomotiveSummary[];
  readonly detectors: readonly DetectorSummary[];
}

export interface ServiceSummary {
  readonly service: string;
  readonly name: string;
  /** `no train`: it names none, and none was found. */
  readonly train: string;
  /** Whether it came to its last call. */
  readonly run: boolean;
  /** Later than booked at its last arrival so far, below zero when early; null: none yet. */
  readonly late: number | null;
  /** The parts of that: brought from the service before, its own, made up. */
  readonly entry: number;
  readonly own: number;
  readonly recovered: number;
  /** Waits that cost it time, the longest first; `for`: label of the train waited for, null: none. */
  readonly waits: readonly {
    readonly for: string | null;
    readonly place: string;
    readonly why: string;
    readonly time: number;
  }[];
}

export interface AlarmSummary {
  readonly kind: string;
  readonly count: number;
  /** Words of the first of them. */
  readonly first: string;
}

export interface LocomotiveSummary {
  readonly locomotive: string;
  readonly name: string;
  /** Label of the train it is in; null: in none. */
  readonly train: string | null;
  readonly address: string;
  /** Times that its train came into a section that reads decoders, and those in which it answered. */
  readonly visits: number;
  readonly answered: number;
  readonly verdict: 'good' | 'seldom answers' | 'never answers' | 'known to be silent' | 'not seen';
}

export interface DetectorSummary extends Readonly<DetectorQuality> {
  readonly section: string;
  readonly place: string;
  readonly readsDecoders: boolean;
  readonly verdict: 'good' | 'flickers' | 'reads seldom' | 'reads nobody' | 'misreads' | 'not used';
}

/** Fewer visits tell nothing of a decoder or a reader. */
const ENOUGH = 3;
/** Flickers from which on a detector is named. */
const FLICKERS = 2;

/** Runs a session's inputs through a fresh engine, on a world compiled for it and its timetable, and says how it went. */
export function summariseSession(
  world: World,
  { name }: { readonly name: string },
  inputs: Iterable<Input>,
): SessionSummary {
  const state = createSession(world);
  const quality = new IdentityQuality(world);
  const alarms = new Map<string, { count: number; first: string }>();
  for (const input of inputs) {
    const { effects } = step(world, state, input);
    quality.see(input, state);
    for (const effect of effects) {
      if (effect.kind === 'alarm' && effect.raised) noteAlarm(alarms, state, effect.alarm);
    }
  }
  return {
    kind: 'blockbell-session-summary',
    version: 1,
    layout: world.layout.file.name,
    timetable: name,
    duration: Math.round(state.now),
    fast: Math.round(fastNow(state.session.clock, state.now)),
    services: servicesOf(world, state),
    alarms: [...alarms]
      .map(([kind, told]) => ({ kind, ...told }))
      .sort((a, b) => b.count - a.count || (a.kind < b.kind ? -1 : 1)),
    locomotives: locomotivesOf(world, quality),
    detectors: detectorsOf(world, quality),
  };
}

function noteAlarm(
  alarms: Map<string, { count: number; first: string }>,
  { alarms: standing }: EngineState,
  id: number,
): void {
  const alarm = standing.find((each) => each.id === id);
  if (alarm === undefined) return;
  const kind = alarm.key.split(':')[0]!;
  const before = alarms.get(kind);
  alarms.set(kind, { count: (before?.count ?? 0) + 1, first: before?.first ?? alarm.text });
}

function servicesOf(
  { timetable, stock, layout }: World,
  { trains, staging }: EngineState,
): ServiceSummary[] {
  const worked = timetable.workings.flatMap((working, train) =>
    (working?.services ?? []).map((service): ServiceSummary => {
      const { file, calls } = timetable.services[service]!;
      const run = trains[train]!.calls.filter((it) => it.service === service);
      const last = run.findLast(({ arrived, delay }) => arrived !== null && delay !== null);
      const delay = last?.delay ?? null;
      return {
        service: file.id,
        name: file.name,
        train: stock.trains[train]!.file.label,
        run: hasRun(timetable, service, run),
        late: last === undefined ? null : lateness(last, calls[last.call]!.arrive),
        entry: delay?.entry ?? 0,
        own: delay?.own ?? 0,
        recovered: delay?.recovered ?? 0,
        waits: (delay?.lost ?? [])
          .map(({ train: other, place, why, time }) => ({
            for: other < 0 ? null : stock.trains[other]!.file.label,
            place: place < 0 ? 'elsewhere' : trackText(layout, place),
            why: why.replaceAll('-', ' '),
            time,
          }))
          .sort((a, b) => b.time - a.time),
      };
    }),
  );
  const withoutTrain = staging.open.flatMap(({ kind }, index): ServiceSummary[] => {
    if (kind === 'given') return [];
    const { id, name } = timetable.openServices[index]!.file;
    const times = { late: null, entry: 0, own: 0, recovered: 0, waits: [] };
    return [{ service: id, name, train: 'no train', run: false, ...times }];
  });
  return [...worked, ...withoutTrain];
}

const lateness = ({ arrived }: CallRecord, booked: number | null): number | null =>
  arrived === null || booked === null ? null : Math.round(arrived) - booked;

function locomotivesOf({ stock }: World, quality: IdentityQuality): LocomotiveSummary[] {
  return stock.file.locomotives.map(({ id, name, address, answers }) => {
    const key = `${address.kind}:${address.number}`;
    const { visits, answered } = quality.locomotives.get(key)!;
    const train = stock.trains.find((each) => each.locomotives.some(({ file }) => file.id === id));
    return {
      locomotive: id,
      name,
      train: train?.file.label ?? null,
      address: key,
      visits,
      answered,
      verdict: locomotiveVerdict(visits, answered, answers),
    };
  });
}

function locomotiveVerdict(
  visits: number,
  answered: number,
  answers: boolean,
): LocomotiveSummary['verdict'] {
  if (visits === 0) return 'not seen';
  if (answered === 0 && !answers) return 'known to be silent';
  if (visits >= ENOUGH && answered === 0) return 'never answers';
  return visits >= ENOUGH && answered * 2 < visits ? 'seldom answers' : 'good';
}

const detectorsOf = ({ layout }: World, quality: IdentityQuality): DetectorSummary[] =>
  layout.sections.map(({ id, elements, detector, index }) => {
    const counts = quality.detectors[index]!;
    return {
      section: id,
      place: elements.map((element) => trackText(layout, element)).join(', '),
      readsDecoders: detector.reportsIdentity,
      ...counts,
      verdict: detectorVerdict(counts),
    };
  });

function detectorVerdict(counts: DetectorQuality): DetectorSummary['verdict'] {
  const { occupied, flickers, visits, read, misread } = counts;
  if (flickers >= FLICKERS) return 'flickers';
  if (misread > 0) return 'misreads';
  if (visits >= ENOUGH && read === 0) return 'reads nobody';
  if (visits >= ENOUGH && read * 2 < visits) return 'reads seldom';
  return occupied === 0 ? 'not used' : 'good';
}
