import { performance } from 'node:perf_hooks';
import { setImmediate as breathe } from 'node:timers/promises';
import {
  explore,
  FULL_BOUNDS,
  QUICK_BOUNDS,
  SMALL_RAILWAYS,
  type Bounds,
  type Exploration,
  type Scenario,
} from '@blockbell/rehearsal';
import { EXIT, UsageError, type ExitCode } from '../exit-code.js';
import { explorationText, exploreProgressText } from '../exhaust/exploration-text.js';
import type { AddCommand } from '../run-cli.js';
import type { Terminal } from '../terminal.js';
import { wholeNumber } from '../whole-number.js';

interface ExhaustOptions {
  readonly disturbances?: number;
  readonly states?: number;
  readonly quick?: boolean;
  readonly exact?: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

/** `blockbell exhaust`: every state that small railways can come into. */
export const addExhaust: AddCommand = (program, terminal, done) => {
  program
    .command('exhaust')
    .description('Go through every state that small railways can come into, and check each.')
    .argument('[names...]', `of ${SMALL_RAILWAYS.map(({ name }) => name).join(', ')}; else all`)
    .option('--disturbances <number>', 'how many may come in one session at most', wholeNumber)
    .option('--states <number>', 'states of one railway at which to give up', wholeNumber)
    .option('--quick', 'each train at one end of its spread, everything at its earliest moment')
    .option('--exact', 'take only states for one that agree to the millisecond')
    .option('--json', 'print the reports as JSON')
    .option('--quiet', 'show no progress')
    .action(async (names: string[], options: ExhaustOptions) =>
      done(await exhaust(names, options, terminal)),
    );
};

async function exhaust(
  names: readonly string[],
  {
    disturbances,
    states,
    quick = false,
    exact = false,
    json = false,
    quiet = false,
  }: ExhaustOptions,
  terminal: Terminal,
): Promise<ExitCode> {
  const chosen = names.length === 0 ? SMALL_RAILWAYS : names.map(railwayNamed);
  const basis = quick ? QUICK_BOUNDS : FULL_BOUNDS;
  const bounds: Bounds = {
    ...basis,
    disturbances: disturbances ?? basis.disturbances,
    states: states ?? basis.states,
    resolution: exact ? 'exact' : basis.resolution,
  };
  let interrupted = false;
  const interrupt = (): void => {
    interrupted = true;
  };
  process.on('SIGINT', interrupt);
  const reports: Exploration[] = [];
  for (const scenario of chosen) {
    if (interrupted) break;
    const report = await explored(scenario, bounds, quiet ? null : terminal, () => interrupted);
    reports.push(report);
    if (!json) terminal.out(explorationText(report));
  }
  process.off('SIGINT', interrupt);
  if (json) terminal.out(JSON.stringify(reports, null, 2));
  const isGood =
    reports.length === chosen.length &&
    reports.every(({ complete, violation }) => complete && violation === null);
  return isGood ? EXIT.ok : EXIT.fault;
}

function railwayNamed(name: string): Scenario {
  const found = SMALL_RAILWAYS.find((it) => it.name === name);
  if (found !== undefined) return found;
  const names = SMALL_RAILWAYS.map((it) => it.name).join(', ');
  throw new UsageError(`there is no small railway ${name}; there are ${names}`);
}

/** Goes through one railway; lets Ctrl-C through between parts of it. */
async function explored(
  scenario: Scenario,
  bounds: Bounds,
  terminal: Terminal | null,
  isInterrupted: () => boolean,
): Promise<Exploration> {
  const began = performance.now();
  const run = explore(scenario, bounds);
  let next = run.next();
  for (; next.done !== true; next = run.next(isInterrupted())) {
    terminal?.progress(exploreProgressText(scenario.name, next.value));
    await breathe();
  }
  const seconds = ((performance.now() - began) / 1000).toFixed(1);
  terminal?.err(`Went through ${scenario.name} in ${seconds} s.`);
  return next.value;
}
