import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { PURE_LIBRARIES, root } from './sources.js';

interface Probe {
  readonly path: string;
  readonly text: string;
}

const probe = (folder: string, number: number, text: string): Probe => ({
  path: `${folder}/src/part/probe-${number}.ts`,
  text: `${text}\n`,
});

const importing = (name: string): string =>
  `import { thing } from '${name}';\nexport const it = thing;`;

/** Imports against the direction of the layers. */
const wrongImports = [
  ['libs/railway', '@blockbell/simulation'],
  ['libs/railway', '@blockbell/contract'],
  ['libs/railway', 'zod'],
  ['libs/railway', 'node:fs'],
  ['libs/railway', '../../../simulation/src/index.js'],
  ['libs/scheduling', '@blockbell/railway'],
  ['libs/scheduling', 'zod'],
  ['libs/scheduling', 'node:fs'],
  ['libs/planning', '@blockbell/simulation'],
  ['libs/planning', '@blockbell/contract'],
  ['libs/planning', 'zod'],
  ['libs/planning', 'node:fs'],
  ['libs/planning', '@blockbell/timetabling'],
  ['libs/timetabling', '@blockbell/contract'],
  ['libs/timetabling', '@blockbell/rehearsal'],
  ['libs/timetabling', 'zod'],
  ['libs/timetabling', 'node:fs'],
  ['libs/staging', '@blockbell/timetabling'],
  ['libs/staging', '@blockbell/contract'],
  ['libs/staging', 'node:fs'],
  ['libs/railway', '@blockbell/staging'],
  ['libs/drawing', '@blockbell/contract'],
  ['libs/drawing', '@blockbell/simulation'],
  ['libs/drawing', 'node:fs'],
  ['libs/railway', '@blockbell/drawing'],
  ['libs/contract', '@blockbell/planning'],
  ['libs/contract', '@blockbell/timetabling'],
  ['libs/contract', '@blockbell/scheduling'],
  ['libs/contract', '@blockbell/simulation'],
  ['libs/contract', '@blockbell/rehearsal'],
  ['libs/contract', 'node:fs'],
  ['libs/simulation', '@blockbell/railway'],
  ['libs/simulation', '@blockbell/rehearsal'],
  ['libs/simulation', '@blockbell/planning'],
  ['libs/simulation', '@blockbell/contract'],
  ['libs/simulation', '../../../railway/src/session/state.js'],
  ['libs/simulation', 'node:fs'],
  ['libs/rehearsal', '@blockbell/contract'],
  ['libs/rehearsal', '@blockbell/scheduling'],
  ['libs/rehearsal', '@blockbell/examples'],
  ['libs/rehearsal', 'node:fs'],
  ['libs/journal', '@blockbell/contract'],
  ['libs/journal', '@blockbell/planning'],
  ['libs/examples', '@blockbell/planning'],
  ['libs/journal', '@blockbell/server'],
  ['libs/examples', '@blockbell/rehearsal'],
  ['libs/examples', '@blockbell/server'],
  ['apps/server', '@blockbell/cli'],
  ['apps/cli', '@blockbell/server'],
  ['apps/board', '../../../server/src/main.js'],
].map(([folder = '', name = ''], number) => ({
  folder,
  name,
  ...probe(folder, number, importing(name)),
}));

const rightImports = [
  ['libs/railway', '../units.js'],
  ['libs/scheduling', '../problem/problem.js'],
  ['libs/planning', '@blockbell/railway'],
  ['libs/planning', '@blockbell/scheduling'],
  ['libs/timetabling', '@blockbell/planning'],
  ['libs/timetabling', '@blockbell/scheduling'],
  ['libs/staging', '@blockbell/railway'],
  ['libs/drawing', '@blockbell/railway'],
  ['libs/contract', '@blockbell/railway'],
  ['libs/contract', 'zod'],
  ['libs/simulation', '@blockbell/railway/track'],
  ['libs/rehearsal', '@blockbell/railway'],
  ['libs/rehearsal', '@blockbell/planning'],
  ['libs/rehearsal', '@blockbell/simulation'],
  ['libs/rehearsal', '@blockbell/staging'],
  ['libs/journal', '@blockbell/simulation'],
  ['libs/journal', 'node:fs'],
  ['libs/examples', '@blockbell/contract'],
  ['libs/examples', 'node:fs'],
  ['apps/server', '@blockbell/rehearsal'],
  ['apps/cli', 'node:fs'],
].map(([folder = '', name = ''], number) => ({
  folder,
  name,
  ...probe(folder, 100 + number, importing(name)),
}));

/** Time, chance and the outer world, reached for in a library that knows none of them. */
const impurities = PURE_LIBRARIES.flatMap((library) =>
  [
    ['export const now = Date.now();', 'no-restricted-globals'],
    ['export const now = new Date();', 'no-restricted-globals'],
    ['export const now = performance.now();', 'no-restricted-globals'],
    ['export const wait = () => setTimeout(() => {}, 1);', 'no-restricted-globals'],
    ['export const home = process.cwd();', 'no-restricted-globals'],
    ['export const now = globalThis.Date.now();', 'no-restricted-globals'],
    ['export const chance = Math.random();', 'no-restricted-properties'],
    ["export const order = 'a'.localeCompare('b');", 'no-restricted-properties'],
  ].map(([text = '', rule = ''], number) => ({
    library,
    rule,
    ...probe(`libs/${library}`, 200 + number, text),
  })),
);

const testFile: Probe = {
  path: 'libs/railway/src/part.test.ts',
  text: `${importing('node:fs')}\nexport const now = Date.now();\n`,
};

/** Rules broken in the tree below `folder`, by file. */
function lint(folder: string): Map<string, string[]> {
  const oxlint = join(root, 'node_modules', 'oxlint', 'bin', 'oxlint');
  const { stdout } = spawnSync(process.execPath, [oxlint, '--format=json'], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  });
  const { diagnostics } = JSON.parse(stdout) as {
    diagnostics: readonly { readonly filename: string; readonly code: string }[];
  };
  const broken = new Map<string, string[]>();
  for (const { filename, code } of diagnostics) {
    broken.set(filename, [...(broken.get(filename) ?? []), code]);
  }
  return broken;
}

let broken: Map<string, string[]>;

beforeAll(() => {
  const scratch = mkdtempSync(join(tmpdir(), 'blockbell-lint-'));
  copyFileSync(join(root, '.oxlintrc.json'), join(scratch, '.oxlintrc.json'));
  for (const { path, text } of [...wrongImports, ...rightImports, ...impurities, testFile]) {
    mkdirSync(dirname(join(scratch, path)), { recursive: true });
    writeFileSync(join(scratch, path), text);
  }
  broken = lint(scratch);
  rmSync(scratch, { recursive: true });
});

describe('imports against the direction of the layers are refused', () => {
  it.each(wrongImports)('from $folder: $name', ({ path }) => {
    expect(broken.get(path)).toEqual(['eslint(no-restricted-imports)']);
  });

  it.each(rightImports)('but not from $folder: $name', ({ path }) => {
    expect(broken.get(path)).toBeUndefined();
  });
});

describe('time, chance and the outer world are refused in the domain', () => {
  it.each(impurities)('in libs/$library: $text', ({ path, rule }) => {
    expect(new Set(broken.get(path))).toEqual(new Set([`eslint(${rule})`]));
  });

  it('but not in a test beside the source', () => {
    expect(broken.get(testFile.path)).toBeUndefined();
  });
});

it('the linter is content with the whole tree', () => {
  expect([...lint(root)]).toEqual([]);
});
