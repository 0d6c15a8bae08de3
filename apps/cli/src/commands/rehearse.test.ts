import { rmSync } from 'node:fs';
import { join } from 'node:path';
import type { SessionReport } from '@blockbell/rehearsal';
import { afterAll, describe, expect, it } from 'vitest';
import { passingLoopPaths } from '../testing/example-paths.js';
import { runCli } from '../run-cli.js';
import { runRecorded } from '../testing/run-recorded.js';

const example = passingLoopPaths();
afterAll(() => rmSync(example.folder, { recursive: true }));

const rehearse = (...args: readonly string[]) =>
  runRecorded('rehearse', ...example.options, ...args);

describe('blockbell rehearse', () => {
  it('runs a session to its end and reports it for a dispatcher', async () => {
    const { exit, out, err } = await rehearse();
    expect(exit).toBe(0);
    expect(out).toContain('6 of 6 run');
    expect(out).toContain('no violation');
    expect(out).toMatch(/Punctual +\d+ of \d+ within 3 min, \d+ within 5 min/);
    expect(out).toMatch(/Waited on +none/);
    expect(err).toMatch(/^Rehearsed \d+ min \d+ s in /);
  });

  it('reports the same as JSON, the same every time', async () => {
    const first = await rehearse('--json', '--quiet', '--seed', '7');
    const second = await rehearse('--json', '--quiet', '--seed', '7');
    expect(first).toEqual(second);
    expect(first.err).toBe('');
    const report = JSON.parse(first.out) as SessionReport;
    expect(report).toMatchObject({
      seed: 7,
      ended: true,
      services: { planned: 6, run: 6, notRun: [] },
      violations: { broken: [], excused: [] },
    });
    expect(report.figures.meets).toBeGreaterThan(0);
    const { entry, own, knockOn, recovered, late, byTrain, byPlace } = report.delays;
    expect(entry + own + knockOn - recovered).toBe(late);
    for (const sums of [byTrain, byPlace])
      expect(sums.reduce((sum, { time }) => sum + time, 0)).toBe(knockOn);
    expect({ knockOn, recovered }).toEqual({ knockOn: 0, recovered: expect.any(Number) });
  });

  it('fails when a service was not run, and says why', async () => {
    const faults = example.write(
      'faults.json',
      JSON.stringify({
        kind: 'blockbell-faults',
        version: 1,
        faults: ['T1', 'T2'].map((element) => ({
          kind: 'stuck-drive',
          at: 0,
          duration: null,
          element,
        })),
      }),
    );
    const { exit, out } = await rehearse('--faults', faults);
    expect(exit).toBe(1);
    expect(out).toMatch(/^not run: .+: .+/m);
  });

  it('is broken off by an interrupt, and reports what was run until then', async () => {
    const out: string[] = [];
    let told = 0;
    const exit = await runCli(['rehearse', ...example.options], {
      out: (text) => out.push(text),
      err: () => {},
      progress: () => {
        told += 1;
        if (told === 4) process.emit('SIGINT');
      },
    });
    expect({ exit, told }).toEqual({ exit: 1, told: 4 });
    expect(out.join('\n')).toMatch(/Session +broken off at 08:\d\d, after 2 min 0 s of running/);
    expect(out.join('\n')).toMatch(/^not run: .+: .+/m);
  });

  it('takes single faults, and an example by its name', async () => {
    const stall = 'stall@70000:train=T3,duration=20000';
    const options = [
      '--example',
      'passing-loop',
      '--fault',
      stall,
      '--fault',
      'dropout@9:section=L1.1',
    ];
    const { exit, out } = await runRecorded('rehearse', '--json', ...options);
    expect(exit).toBe(0);
    const report = JSON.parse(out) as SessionReport;
    expect(report.services).toMatchObject({ planned: 6, run: 6 });
    expect(report.lastCalls.map(({ service }) => service)).toHaveLength(6);
    expect(report.figures.alarms).toBeGreaterThan(0);
    expect(report.nextLineUp.map(({ train }) => train)).toEqual(['T3', 'T47']);
  });

  it('names what is wrong in a single fault', async () => {
    const { exit, err } = await rehearse('--fault', 'stall@0:train=nobody');
    expect(exit).toBe(1);
    expect(err).toContain('--fault: faults[0].train: there is no train nobody');
  });

  it('names everything wrong in a file of faults', async () => {
    const faults = example.write('wrong.json', '{ "kind": "blockbell-faults", "version": 2 }');
    const { exit, err } = await rehearse('--faults', faults);
    expect(exit).toBe(1);
    expect(err).toContain(`${faults}: version: `);
    expect(err).toContain(`${faults}: faults: this field is missing`);
  });

  it.each([
    ['only some of the files', ['rehearse', '--layout', join(example.folder, 'layout.json')]],
    ['a fault out of shape', ['rehearse', '--fault', 'stall']],
    ['an unknown example', ['rehearse', '--example', 'moon']],
    ['an example and files', ['rehearse', '--example', 'demo', ...example.options]],
    ['a seed that is no number', ['rehearse', '--seed', 'lucky']],
    ['a journal that can not be written', ['rehearse', ...example.options, '--journal', '/']],
  ])('refuses %s with exit code 2', async (_, args) => {
    const { exit, out, err } = await runRecorded(...args);
    expect({ exit, out }).toEqual({ exit: 2, out: '' });
    expect(err).not.toContain('    at ');
  });
});
