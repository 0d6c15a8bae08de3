import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { SessionSummary } from '@blockbell/journal';
import { afterAll, describe, expect, it } from 'vitest';
import { passingLoopPaths } from '../testing/example-paths.js';
import { runRecorded } from '../testing/run-recorded.js';

const example = passingLoopPaths();
afterAll(() => rmSync(example.folder, { recursive: true }));

describe('blockbell summary', () => {
  it('says how a rehearsed session went, and writes it with its tables', async () => {
    const out = join(example.folder, 'summary');
    const told = await runRecorded('summary', ...example.options, '--quiet', '--out', out);
    expect(told.exit).toBe(0);
    expect(told.out).toContain('Services: 6 of 6 run');
    expect(told.out).toContain('Detectors: none stands out');
    const kept = JSON.parse(readFileSync(join(out, 'summary.json'), 'utf8')) as SessionSummary;
    expect(kept).toMatchObject({
      kind: 'blockbell-session-summary',
      timetable: 'Pennick crossings',
    });
    expect(readFileSync(join(out, 'locomotives.csv'), 'utf8')).toContain('visits,answered,verdict');
  });

  it('reads a journal, and comes to the same', async () => {
    const journal = join(example.folder, 'session.journal');
    await runRecorded('rehearse', ...example.options, '--quiet', '--journal', journal);
    const [read, rehearsed] = [
      await runRecorded('summary', journal, '--json'),
      await runRecorded('summary', ...example.options, '--quiet', '--json'),
    ];
    expect(JSON.parse(read.out)).toEqual(JSON.parse(rehearsed.out));
  });

  it('refuses a session without its folder', async () => {
    const { exit, err } = await runRecorded('summary', '--session', '1');
    expect(exit).toBe(2);
    expect(err).toContain('--data');
  });
});
