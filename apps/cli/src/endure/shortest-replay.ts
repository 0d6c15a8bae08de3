import {
  blockOf,
  compileLayout,
  compileStock,
  endAhead,
  type Layout,
  type Stock,
} from '@blockbell/railway';
import {
  endureCase,
  endureSession,
  shrink,
  type Failure,
  type RailwayFiles,
  type SessionOutcome,
  type SessionRequest,
} from '@blockbell/rehearsal';
import type { Fault } from '@blockbell/simulation';

/** A failed session with as few faults as still make it fail in the same way. */
export interface Replay {
  readonly failure: Failure;
  /** How many faults the session had, and how many are left. */
  readonly faults: { readonly before: number; readonly left: number };
  /** What to type to see it again. */
  readonly command: string;
}

/** Sessions run again, at most, to shorten one failure. */
const MOST_RUNS = 150;

/** Shortens a failure. One that its faults, written down, don't bring about again is named by its seed and level alone. */
export function shortestReplay(outcome: SessionOutcome, demo: RailwayFiles): Replay {
  const { request, failure, script, level } = outcome;
  if (failure === null) throw new Error('a session that did not fail has nothing to shorten');
  const failureOf = (faults: readonly Fault[]): Failure | null => {
    const again = endureSession(request, demo, faults, true).failure;
    return again?.what === failure.what ? again : null;
  };
  const before = script.length;
  if (failureOf(script) === null) {
    const command = `${commandOf(request)} --faults ${level}`;
    return { failure, faults: { before, left: before }, command };
  }
  const left = shrink(script, (faults) => failureOf(faults) !== null, MOST_RUNS);
  const railway = endureCase(request, demo);
  const layout = compileLayout(railway.layout);
  const stock = compileStock(railway.stock);
  const options = left.map((fault) => ` --fault ${faultOption(fault, layout, stock)}`).join('');
  return {
    failure: failureOf(left) ?? failure,
    faults: { before, left: left.length },
    command: `${commandOf(request)}${left.length === 0 ? ' --faults none' : options}`,
  };
}

const commandOf = ({ seed, number, silent, people = false }: SessionRequest): string =>
  `npx --no-install blockbell endure --seed ${seed} --session ${number}` +
  (silent === null ? '' : ` --silent ${silent}`) +
  (people ? ' --people' : '');

/** A fault in the short form that `--fault` reads. */
export function faultOption(fault: Fault, layout: Layout, stock: Stock): string {
  const { kind, at, ...fields } = fault;
  const written = Object.entries(fields).flatMap(([name, value]) =>
    name === 'duration' && value === null ? [] : [`${name}=${named(name, value, layout, stock)}`],
  );
  return written.length === 0 ? `${kind}@${at}` : `${kind}@${at}:${written.join(',')}`;
}

function named(name: string, value: unknown, layout: Layout, stock: Stock): string {
  if (typeof value === 'object' && value !== null && 'number' in value && 'kind' in value) {
    return `${String(value.kind)}:${String(value.number)}`;
  }
  if (typeof value !== 'number') return String(value);
  switch (name) {
    case 'section':
      return layout.sections[value]!.id;
    case 'element':
      return layout.elements[value]!.id;
    case 'train':
      return stock.trains[value]!.file.id;
    case 'district':
      return layout.districts[value]!;
    case 'to':
      return `${layout.elements[blockOf(value)]!.id}.${endAhead(value)}`;
    default:
      return String(value);
  }
}
