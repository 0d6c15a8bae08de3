import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { ExampleName } from '@blockbell/examples';
import type { SessionReport } from '@blockbell/rehearsal';
import { expect, it } from 'vitest';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { sessionDigest } from '../support/session-digest.mjs';

const SCRIPT = fileURLToPath(new URL('../support/session-digest.mjs', import.meta.url));

/** The digest as a process of its own finds it, from the built packages. */
function digestElsewhere(example: ExampleName, seed: number): string {
  const { status, stdout, stderr } = spawnSync(process.execPath, [SCRIPT, example, String(seed)], {
    encoding: 'utf8',
    maxBuffer: 1 << 26,
  });
  expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  return stdout.trimEnd();
}

it(
  'the demo with the same seed is the same to the byte, here and in two other processes',
  () => {
    const here = sessionDigest('demo', 7);
    expect(digestElsewhere('demo', 7)).toBe(here);
    expect(digestElsewhere('demo', 7)).toBe(here);
  },
  3 * SESSION_TIMEOUT,
);

it('the passing loop with ten seeds goes ten different ways, each the same every time', () => {
  const seeds = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
  const first = seeds.map((seed) => sessionDigest('passing-loop', seed));
  expect(seeds.map((seed) => sessionDigest('passing-loop', seed))).toEqual(first);
  const steps = first.map((text) => (JSON.parse(text) as { steps: string }).steps);
  expect(new Set(steps).size).toBe(seeds.length);
  const reports = first.map((text) => (JSON.parse(text) as { report: SessionReport }).report);
  expect(new Set(reports.map(({ digest }) => digest)).size).toBe(seeds.length);
});
