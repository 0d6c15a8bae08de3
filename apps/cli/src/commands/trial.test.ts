import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { exampleFiles } from '@blockbell/examples';
import type { TrialReport } from '@blockbell/rehearsal';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runRecorded } from '../testing/run-recorded.js';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'blockbell-trial-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const write = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

const LOOP = ['--example', 'passing-loop'];
const STUCK = ['--fault', 'stuck-drive@0:element=T1'];

describe('blockbell trial', () => {
  it('passes every route of the passing loop and says what they used', async () => {
    const { exit, out } = await runRecorded('trial', ...LOOP);
    expect(exit).toBe(0);
    expect(out).toContain('  16 routes: 16 passed, 0 failed, 0 not run\n');
    expect(out).toContain('  Turnouts  4 of 4 positions\n');
    expect(out).toContain('  Sections  26 of 26 sections\n');
  });

  it('reads a layout and a stock file, in either order', async () => {
    const { layout, stock } = exampleFiles('passing-loop');
    const paths = [write('stock.json', stock), write('layout.json', layout)];
    const { exit, out } = await runRecorded('trial', ...paths, '--route', 'W1>L1');
    expect(exit).toBe(0);
    expect(out).toContain('1 route: 1 passed');
  });

  it('fails where a turnout does not move, and names it with its mend', async () => {
    const { exit, out } = await runRecorded('trial', ...LOOP, ...STUCK, '--json');
    const report = JSON.parse(out) as TrialReport;
    expect(exit).toBe(1);
    expect(report.failed).toBeGreaterThan(0);
    expect(report.trials.find(({ route }) => route === 'L2>P2')).toMatchObject({
      name: 'block L2 → Pennick 2',
      from: 'L2.b',
      outcome: 'failed',
    });
    const told = await runRecorded('trial', ...LOOP, ...STUCK, '--quiet');
    expect(told.out).toContain('FAILED: block L2 → Pennick 2 (L2>P2) by ');
    for (const { outcome, fault, drives } of report.trials) {
      if (outcome === 'passed') continue;
      expect(fault!.text).toContain('T1');
      expect(drives.find(({ id }) => id === 'T1')).toMatchObject({ proven: null, thrown: true });
    }
  });

  it('compares with an earlier report, and says when that is of another layout', async () => {
    const { out: before } = await runRecorded('trial', ...LOOP, ...STUCK, '--json');
    const kept = write('before.json', before);
    const same = await runRecorded('trial', ...LOOP, '--against', kept);
    expect(same.exit).toBe(0);
    expect(same.out).toMatch(/routes as before, \d+ otherwise\n/);
    expect(same.out).toContain('  block L2 → Pennick 2 (L2>P2): failed → passed');
    expect(same.out).not.toContain('STALE');
    const { layout, stock } = exampleFiles('passing-loop');
    const longer = layout.replace('"name": "', '"name": "New ');
    expect(longer).not.toBe(layout);
    const files = [write('stock.json', stock), write('longer.json', longer)];
    const other = await runRecorded('trial', ...files, '--against', kept, '--json');
    expect(JSON.parse(other.out).against).toMatchObject({ isStale: true });
    const told = await runRecorded('trial', ...files, '--against', kept, '--route', 'W1>L1');
    expect(told.out).toContain('STALE: that layout is not the one tried now');
    const earlier = JSON.parse(before) as { trials: Record<string, unknown>[] };
    for (const it of earlier.trials) delete it['name'];
    const nameless = write('nameless.json', JSON.stringify(earlier));
    const old = await runRecorded('trial', ...LOOP, '--against', nameless);
    expect(old.out).toContain('  block L2 → Pennick 2 (L2>P2): failed → passed');
    const wrong = await runRecorded('trial', ...LOOP, '--against', files[0]!);
    expect(wrong.exit).toBe(2);
    expect(wrong.err).toContain('is no report of a route trial');
  });

  it('writes a page with a row for every route', async () => {
    const path = join(folder, 'trial.html');
    await runRecorded('trial', ...LOOP, ...STUCK, '--page', path);
    const page = readFileSync(path, 'utf8');
    expect(page.match(/<tr class=/g)).toHaveLength(16);
    expect(page).toContain('<td>block L2 → Pennick 2<small>L2&gt;P2</small></td>');
    expect(page).toContain('<td>FAILED</td>');
    // Some trains stop a little beyond their mark: with a minus sign, never a hyphen.
    expect(page).toMatch(/<td class="number">−\d+<\/td>/);
    expect(page).not.toMatch(/>-\d/);
  });

  it('lists routes, and refuses what is not there', async () => {
    const { out } = await runRecorded('trial', ...LOOP, '--list');
    expect(out.trim().split('\n')).toHaveLength(16);
    expect(out).toContain('\nL2>P2  block L2 → Pennick 2\n');
    const tooLong = await runRecorded('trial', '--train', 'T61', '--quiet', '--route', 'R5>R6');
    expect(tooLong.out).toMatch(/has no room in block R6 nor in block R5: /);
    const route = await runRecorded('trial', ...LOOP, '--route', 'A>B');
    expect(route).toMatchObject({ exit: 2 });
    expect(route.err).toContain('The layout has no route A>B.');
    const train = await runRecorded('trial', ...LOOP, '--train', 'T0');
    expect(train.err).toContain('The rolling stock has no train T0. Its trains: T3, T47.');
    const half = await runRecorded('trial', write('half.json', exampleFiles('demo').layout));
    expect(half).toMatchObject({ exit: 2 });
    expect(half.err).toContain('a route trial needs one layout file and one stock file');
  });
});
