import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { PURE_LIBRARIES, root } from './sources.js';

/** What the domain can't see does not compile, whatever the linter says; with the error expected. */
const refused = [
  { what: 'a timer', error: 'TS2304', text: 'setTimeout(() => {}, 1);' },
  { what: 'the process', error: 'TS2591', text: 'export const it = process.cwd();' },
  {
    what: 'a file',
    error: 'TS2591',
    text: "import { readFileSync } from 'node:fs';\nexport const it = readFileSync;",
  },
  { what: 'a page', error: 'TS2584', text: 'export const it = document.title;' },
  {
    what: 'a bare number for a length',
    error: 'TS2322',
    text: "import type { Millimetres } from './units.js';\nexport const it: Millimetres = 3;",
  },
].map((probe, number) => ({ ...probe, number }));

const allowed = "import { mm } from './units.js';\nexport const it = mm(3);\n";

describe.each(PURE_LIBRARIES)('with the compiler settings of libs/%s', (library) => {
  let output: string;

  beforeAll(() => {
    const scratch = mkdtempSync(join(tmpdir(), 'blockbell-compiler-'));
    const folder = join(scratch, 'libs', library);
    const into = (...path: string[]): string => join(folder, 'src', ...path);
    cpSync(join(root, 'tsconfig.json'), join(scratch, 'tsconfig.json'));
    cpSync(join(root, 'libs', library, 'package.json'), join(folder, 'package.json'));
    // The probes need no other package, so the copy stands without the references to them.
    const settings: object = JSON.parse(
      readFileSync(join(root, 'libs', library, 'tsconfig.json'), 'utf8'),
    );
    writeFileSync(join(folder, 'tsconfig.json'), JSON.stringify({ ...settings, references: [] }));
    symlinkSync(join(root, 'node_modules'), join(scratch, 'node_modules'));
    cpSync(join(root, 'libs/railway/src/units.ts'), into('units.ts'));
    writeFileSync(into('allowed.ts'), allowed);
    for (const { number, text } of refused) {
      writeFileSync(into(`refused-${number}.ts`), `${text}\n`);
    }
    const tsc = join(root, 'node_modules', 'typescript', 'bin', 'tsc');
    const result = spawnSync(
      process.execPath,
      [tsc, '-p', folder, '--noEmit', '--pretty', 'false'],
      {
        encoding: 'utf8',
        cwd: folder,
      },
    );
    output = result.stdout;
    rmSync(scratch, { recursive: true });
  });

  it('a file that keeps to the domain compiles', () => {
    expect(output).not.toContain('allowed.ts');
  });

  it.each(refused)('$what does not compile', ({ number, error }) => {
    const lines = output.split('\n').filter((line) => line.includes(`refused-${number}.ts`));
    expect(lines.join('\n')).toContain(error);
  });
});
