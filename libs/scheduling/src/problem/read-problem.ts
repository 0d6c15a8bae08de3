import { horizonOf, LARGEST_SUM, largestCost } from './horizon.js';
import type {
  Component,
  Operation,
  Plan,
  PlanEvent,
  Problem,
  ResourceUse,
  Train,
} from './problem.js';

/** What is wrong in a file, and where: `trains[3][12].successors[0]: …`. */
export interface ReadFault {
  readonly place: string;
  readonly message: string;
}

export type ReadResult<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly faults: readonly ReadFault[] };

/** Largest number in a file. */
const LARGEST = 1_099_511_627_776;

/** Reads a problem from the text of a JSON file; all faults are found in one go. */
export function readProblem(text: string): ReadResult<Problem> {
  return readJson(text, (reader, root) => {
    const trains = reader
      .list(root, '', 'trains')
      .map((train, t) => readTrain(reader, train, `trains[${t}]`));
    const objective = reader
      .list(root, '', 'objective')
      .map((component, i) => readComponent(reader, component, `objective[${i}]`, trains));
    const problem = { trains, objective };
    if (horizonOf(problem) > LARGEST_SUM || largestCost(problem) > LARGEST_SUM)
      reader.report('file', 'Times or costs add up to more than can be reckoned exactly.');
    return problem;
  });
}

/** Reads a plan; whether it answers a problem is for `verifyPlan` to say. */
export function readPlan(text: string): ReadResult<Plan> {
  return readJson(text, (reader, root) => ({
    objectiveValue: reader.integer(root, '', 'objective_value', null, 0),
    events: reader.list(root, '', 'events').map((event, i): PlanEvent => {
      const place = `events[${i}]`;
      const fields = reader.fields(event, place);
      return {
        time: reader.integer(fields, place, 'time', null, 0),
        train: reader.integer(fields, place, 'train', null, 0),
        operation: reader.integer(fields, place, 'operation', null, 0),
      };
    }),
  }));
}

/** A plan as the text of a JSON file in the format's own terms. */
export function writePlan({ objectiveValue, events }: Plan): string {
  return JSON.stringify({ objective_value: objectiveValue, events });
}

function readJson<T>(
  text: string,
  read: (reader: Reader, root: Readonly<Record<string, unknown>>) => T,
): ReadResult<T> {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    return { ok: false, faults: [{ place: 'file', message: `This is not JSON: ${message}.` }] };
  }
  const reader = new Reader();
  const value = read(reader, reader.fields(json, 'file'));
  return reader.faults.length > 0 ? { ok: false, faults: reader.faults } : { ok: true, value };
}

function readTrain(reader: Reader, value: unknown, place: string): Train {
  if (!Array.isArray(value) || value.length === 0) {
    reader.report(place, 'A train is a list of one operation or more.');
    return [];
  }
  const train = value.map((operation: unknown, i) =>
    readOperation(reader, operation, `${place}[${i}]`, i, value.length),
  );
  const entered = new Set(train.flatMap(({ successors }) => successors));
  train.forEach(({ successors }, i) => {
    if (i > 0 && !entered.has(i))
      reader.report(`${place}[${i}]`, 'No operation leads here; only the first may be an entry.');
    if (i < train.length - 1 && successors.length === 0)
      reader.report(
        `${place}[${i}].successors`,
        'Nothing follows; only the last operation may be an exit.',
      );
  });
  return train;
}

function readOperation(
  reader: Reader,
  value: unknown,
  place: string,
  index: number,
  count: number,
): Operation {
  const fields = reader.fields(value, place);
  const startLb = reader.integer(fields, place, 'start_lb', 0, 0);
  const startUb =
    fields['start_ub'] === undefined || fields['start_ub'] === null
      ? Infinity
      : reader.integer(fields, place, 'start_ub', null, 0);
  const minDuration = reader.integer(fields, place, 'min_duration', null, 0);
  const resources = (
    fields['resources'] === undefined ? [] : reader.list(fields, place, 'resources')
  ).map((use, i): ResourceUse => {
    const at = `${place}.resources[${i}]`;
    const useFields = reader.fields(use, at);
    const resource = useFields['resource'];
    if (typeof resource !== 'string' || resource === '')
      reader.report(`${at}.resource`, 'A resource is named by a text that is not empty.');
    return {
      resource: String(resource),
      releaseTime: reader.integer(useFields, at, 'release_time', 0, 0),
    };
  });
  const successors = reader.list(fields, place, 'successors').map((successor, i) => {
    const at = `${place}.successors[${i}]`;
    const next = reader.check(successor, at, 0);
    if (next >= count) reader.report(at, `The train has operations 0 to ${count - 1} only.`);
    else if (next <= index)
      reader.report(at, 'Operations are listed in the order in which they may follow each other.');
    return next;
  });
  if (new Set(successors).size < successors.length)
    reader.report(`${place}.successors`, 'An operation is named twice.');
  return { startLb, startUb, minDuration, resources, successors };
}

function readComponent(
  reader: Reader,
  value: unknown,
  place: string,
  trains: readonly Train[],
): Component {
  const fields = reader.fields(value, place);
  if (fields['type'] === 'makespan')
    return { type: 'makespan', coeff: reader.integer(fields, place, 'coeff', 1, 0) };
  if (fields['type'] !== 'op_delay')
    reader.report(`${place}.type`, 'Known types are "op_delay" and "makespan".');
  const train = reader.integer(fields, place, 'train', null, 0);
  const operation = reader.integer(fields, place, 'operation', null, 0);
  if (trains[train] === undefined) reader.report(`${place}.train`, `There is no train ${train}.`);
  else if (trains[train][operation] === undefined)
    reader.report(`${place}.operation`, `Train ${train} has no operation ${operation}.`);
  return {
    type: 'op_delay',
    train,
    operation,
    threshold: reader.integer(fields, place, 'threshold', 0, -LARGEST),
    coeff: reader.integer(fields, place, 'coeff', 0, 0),
    increment: reader.integer(fields, place, 'increment', 0, 0),
  };
}

class Reader {
  readonly faults: ReadFault[] = [];

  report(place: string, message: string): void {
    this.faults.push({ place, message });
  }

  fields(value: unknown, place: string): Readonly<Record<string, unknown>> {
    if (isRecord(value)) return value;
    this.report(place, 'An object is expected here.');
    return {};
  }

  list(fields: Readonly<Record<string, unknown>>, place: string, name: string): readonly unknown[] {
    const value = fields[name];
    if (Array.isArray(value)) return value;
    this.report(join(place, name), 'A list is expected here.');
    return [];
  }

  /** @param fallback used when the field is missing; null where it must be given */
  integer(
    fields: Readonly<Record<string, unknown>>,
    place: string,
    name: string,
    fallback: number | null,
    least: number,
  ): number {
    const value = fields[name];
    if (value === undefined && fallback !== null) return fallback;
    return this.check(value, join(place, name), least);
  }

  check(value: unknown, place: string, least: number): number {
    if (typeof value === 'number' && Number.isInteger(value) && value >= least && value <= LARGEST)
      return value;
    this.report(place, `A whole number from ${least} to ${LARGEST} is expected here.`);
    return least;
  }
}

const join = (place: string, name: string): string => (place === '' ? name : `${place}.${name}`);

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
