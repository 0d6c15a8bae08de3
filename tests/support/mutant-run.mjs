import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  realpathSync,
  rmSync,
  symlinkSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const folder = join(root, 'tests/mutants');
/** Longest time for the tests of one mutant, ms. A rule so broken that a test never ends is caught as well. */
const LONGEST = 600_000;

let copy = null;
/** By tests named: how they end on the sources as they are. */
const unbroken = new Map();

/** All mutants: `{ name, path, breaks, tests }`, in the order of their names. */
export function mutants() {
  return readdirSync(folder)
    .filter((file) => file.endsWith('.patch'))
    .sort()
    .map((file) => {
      const path = join(folder, file);
      const head = readFileSync(path, 'utf8').split('diff --git')[0];
      const field = (name) => new RegExp(`^${name}: (.+)$`, 'm').exec(head)?.[1];
      const [breaks, tests] = [field('Breaks'), field('Caught by')];
      if (breaks === undefined || tests === undefined) {
        throw new Error(`${file} must begin with the lines “Breaks:” and “Caught by:”`);
      }
      return { name: file.replace('.patch', ''), path, breaks, tests };
    });
}

/** Whether a patch applies to the sources as they are. */
export const applies = ({ path }) =>
  spawnSync('git', ['apply', '--check', path], { cwd: root }).status === 0;

/** `{ verdict, by }`: `by` names the first test that failed. */
export async function runMutant(mutant, onlyCheck = false) {
  if (!applies(mutant)) return { verdict: 'does not apply', by: null };
  if (onlyCheck) return { verdict: 'applies', by: null };
  copy ??= copySources();
  if (!unbroken.has(mutant.tests)) unbroken.set(mutant.tests, await runTests(copy, mutant.tests));
  const { verdict, by } = unbroken.get(mutant.tests);
  if (verdict !== 'survived') return { verdict: 'not judged, its tests fail without it too', by };
  patch(copy, mutant.path);
  try {
    return await runTests(copy, mutant.tests);
  } finally {
    patch(copy, mutant.path, '--reverse');
  }
}

export function cleanMutants() {
  if (copy !== null) rmSync(copy, { recursive: true });
  copy = null;
}

/** A copy of the sources that finds its own workspace packages, and everything else where it is installed. */
function copySources() {
  const target = mkdtempSync(join(tmpdir(), 'blockbell-mutants-'));
  for (const part of ['libs', 'apps', 'tests', 'package.json', 'tsconfig.json']) {
    cpSync(join(root, part), join(target, part), {
      recursive: true,
      filter: (path) => !/\/(node_modules|dist|data)$/.test(path),
    });
  }
  const installed = join(root, 'node_modules');
  const modules = join(target, 'node_modules');
  mkdirSync(join(modules, '@blockbell'), { recursive: true });
  for (const name of readdirSync(installed)) {
    if (name !== '@blockbell')
      symlinkSync(realpathSync(join(installed, name)), join(modules, name));
  }
  for (const name of readdirSync(join(installed, '@blockbell'))) {
    const inCopy = ['libs', 'apps'].map((kind) => join(target, kind, name)).find(existsSync);
    if (inCopy !== undefined) symlinkSync(inCopy, join(modules, '@blockbell', name));
  }
  return target;
}

function patch(cwd, path, ...more) {
  const { status, stderr } = spawnSync('git', ['apply', ...more, path], { cwd, encoding: 'utf8' });
  if (status !== 0) throw new Error(`git apply ${path}: ${stderr}`);
}

/** Runs the tests named, as a shell would split them: words, or several between double quotes. */
async function runTests(cwd, tests) {
  const words = [...tests.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare);
  const results = join(cwd, 'results.json');
  rmSync(results, { force: true });
  const vitest = join(root, 'node_modules/vitest/vitest.mjs');
  const run = ['run', '--config', 'tests/vitest.config.ts', '--reporter=json'];
  const child = spawn(process.execPath, [vitest, ...run, `--outputFile=${results}`, ...words], {
    cwd,
    // Nothing is built in the copy.
    env: { ...process.env, BLOCKBELL_PACKAGES: 'sources' },
    stdio: 'ignore',
    timeout: LONGEST,
    killSignal: 'SIGKILL',
  });
  const [, signal] = await once(child, 'exit');
  if (signal !== null) return { verdict: 'caught', by: `no end within ${LONGEST / 1000} s` };
  if (!existsSync(results)) throw new Error(`the tests did not run: ${tests}`);
  const { testResults, numTotalTests } = JSON.parse(readFileSync(results, 'utf8'));
  if (testResults.some((file) => file.status === 'failed' && file.assertionResults.length === 0)) {
    throw new Error(`the tests could not be read: ${tests}`);
  }
  if (numTotalTests === 0) throw new Error(`no test is named ${tests}`);
  const failed = testResults
    .flatMap((file) => file.assertionResults)
    .find((it) => it.status === 'failed');
  if (failed !== undefined) return { verdict: 'caught', by: failed.fullName };
  return { verdict: 'survived', by: null };
}
