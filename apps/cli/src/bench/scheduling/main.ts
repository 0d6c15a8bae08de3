import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import {
  readJobShop,
  readPlan,
  readProblem,
  verifyPlan,
  writePlan,
  type Plan,
  type Problem,
} from '@blockbell/scheduling';
import { TARGETS } from './best-known.js';
import { columns, HEADINGS, shortfalls, type Outcome } from './outcome.js';
import { PlanningClient } from './planning-client.js';

/** For each problem, ms. */
const LIMIT = 60_000;
const SEED = 1;
/** First plans made, and dropped, before the one that is timed: the thread is to be warm. */
const WARM_UPS = 10;
const FOLDER = 'BLOCKBELL_SCHEDULING_DATA';

/** Plans the published problems, or the files named, and exits with 1 when a target is missed. */
async function main(files: readonly string[]): Promise<number> {
  const folder = process.env[FOLDER];
  if (folder === undefined || folder === '') {
    console.error(`${FOLDER} is not set; it names the folder with the published problems.`);
    return 1;
  }
  const client = new PlanningClient();
  const missed: string[] = [];
  console.log(row(HEADINGS));
  try {
    for (const file of files.length > 0 ? files : TARGETS.keys()) {
      const path = pathOf(folder, file);
      const read = readFile(path);
      if ('fault' in read) {
        missed.push(`${file}: ${read.fault}`);
        continue;
      }
      const [name, target] = [...TARGETS].find(([key]) => path.endsWith(key)) ?? [file, undefined];
      const outcome = await planned(client, name, read.problem);
      console.log(row(columns(outcome, target)));
      missed.push(...shortfalls(outcome, target).map((text) => `${name}: ${text}`));
    }
  } finally {
    await client.close();
  }
  for (const text of missed) console.error(text);
  return missed.length > 0 ? 1 : 0;
}

/** A file of the folder by its path in it, or any other file. */
function pathOf(folder: string, file: string): string {
  const inFolder = join(folder, file);
  return existsSync(inFolder) ? inFolder : resolve(process.env['INIT_CWD'] ?? '.', file);
}

function readFile(path: string): { problem: Problem } | { fault: string } {
  if (!existsSync(path)) return { fault: 'there is no such file' };
  const text = readFileSync(path, 'utf8');
  const result = path.endsWith('.json') ? readProblem(text) : readJobShop(text);
  if (result.ok) return { problem: result.value };
  return { fault: result.faults.map(({ place, message }) => `${place}: ${message}`).join(' ') };
}

async function planned(client: PlanningClient, name: string, problem: Problem): Promise<Outcome> {
  for (let i = 0; i < WARM_UPS; i++)
    await client.plan(problem, { seed: SEED }, LIMIT, ({ state }) => state.plan === null);
  let first: number | null = null;
  let best: number | null = null;
  let cost = Infinity;
  const { state, elapsed } = await client.plan(
    problem,
    { seed: SEED },
    LIMIT,
    ({ state: { plan }, elapsed }) => {
      if (plan !== null && plan.objectiveValue < cost) {
        cost = plan.objectiveValue;
        first ??= elapsed;
        best = elapsed;
      }
      return true;
    },
  );
  return {
    name,
    cost: state.plan?.objectiveValue ?? null,
    bound: state.bound,
    status: state.status,
    first,
    best,
    whole: elapsed,
    faults: state.plan === null ? [] : faultsOf(problem, state.plan),
  };
}

/** What is wrong with a plan, once it has been to a file and back. */
function faultsOf(problem: Problem, plan: Plan): string[] {
  const read = readPlan(writePlan(plan));
  return (read.ok ? verifyPlan(problem, read.value) : read.faults).map(({ message }) => message);
}

const row = (cells: readonly string[]): string =>
  cells.map((cell, i) => (i === 0 ? cell.padEnd(30) : cell.padStart(14))).join('');

process.exitCode = await main(process.argv.slice(2));
