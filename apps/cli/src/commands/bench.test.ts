import { rmSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import type { StepFigures } from '../bench/measure-steps.js';
import { passingLoopPaths } from '../testing/example-paths.js';
import { runRecorded } from '../testing/run-recorded.js';

const example = passingLoopPaths();
afterAll(() => rmSync(example.folder, { recursive: true }));

describe('blockbell bench', () => {
  it('tells what a step costs by the kind of its input', async () => {
    const { exit, out } = await runRecorded('bench', ...example.options, '--json');
    expect(exit).toBe(0);
    const { machine, figures } = JSON.parse(out) as { machine: string; figures: StepFigures[] };
    expect(machine).toContain(`Node ${process.versions.node}`);
    expect(figures).toHaveLength(1);
    const [{ steps, search, rehearsalSpeed }] = figures as [StepFigures];
    expect(steps.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['detector edge', 'identity report', 'deadline', 'grant decided']),
    );
    for (const { count, mean, p50, p99, max } of steps) {
      expect(count).toBeGreaterThan(0);
      expect(mean).toBeGreaterThan(0);
      expect(p50).toBeLessThanOrEqual(p99);
      expect(p99).toBeLessThanOrEqual(max);
    }
    expect(search.most).toBeGreaterThan(0);
    expect(rehearsalSpeed).toBeGreaterThan(1);
  });

  it('prints the figures as a table', async () => {
    const { exit, out } = await runRecorded('bench', ...example.options);
    expect(exit).toBe(0);
    expect(out).toMatch(/^ {2}detector edge( +\d+){5}$/m);
    expect(out).toMatch(/ times real time$/);
  });
});
