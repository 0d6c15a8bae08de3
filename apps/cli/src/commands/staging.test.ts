import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TimetableFile } from '@blockbell/railway';
import { exampleRules } from '@blockbell/examples/rules';
import { describe, expect, it } from 'vitest';
import { runRecorded } from '../testing/run-recorded.js';

describe('blockbell staging', () => {
  it('shows every track of the demo’s yard, with nobody in the way', async () => {
    const { exit, out } = await runRecorded('staging');
    const lines = out.split('\n');
    expect(exit).toBe(0);
    expect(lines[0]).toBe('Undercroft Yard: 35 stays in 11 tracks');
    expect(lines[1]).toMatch(/^ {2}1 {3}101 …–06:02, /);
    expect(lines).toContain('  Nobody is in another’s way.');
  });

  it('writes a timetable with one track for each call in the yard', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'blockbell-staging-'));
    const path = join(folder, 'timetable.json');
    await runRecorded('staging', '--out', path);
    const file = JSON.parse(readFileSync(path, 'utf8')) as TimetableFile;
    rmSync(folder, { recursive: true });
    const calls = file.services.flatMap((service) => service.calls.slice(1));
    const inYard = calls.filter(({ station }) => station === 'undercroft');
    expect(inYard.length).toBeGreaterThan(10);
    for (const { tracks } of inYard) expect(tracks).toHaveLength(1);
  });

  it('says the same as JSON, and refuses a layout without a yard', async () => {
    const { out } = await runRecorded('staging', '--json');
    const [yard] = JSON.parse(out) as { yard: string; stays: { track: string | null }[] }[];
    expect(yard!.yard).toBe('undercroft');
    expect(yard!.stays.filter(({ track }) => track === null)).toEqual([]);
    const { exit, err } = await runRecorded('staging', '--example', 'passing-loop');
    expect({ exit, err: err.trim() }).toEqual({
      exit: 2,
      err: 'blockbell: Pennick passing loop has no staging yard',
    });
  });

  it('says what rules mean and tries them, and refuses rules that can’t be run', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'blockbell-rules-'));
    const path = join(folder, 'rules.json');
    const write = (tracks: readonly string[]): void =>
      writeFileSync(
        path,
        JSON.stringify({
          kind: 'blockbell-staging-rules',
          version: 1,
          id: 'one-track',
          name: 'One track for all',
          layout: 'vellin-valley',
          yards: [
            {
              yard: 'undercroft',
              arrivals: [{ only: { is: 'track', of: tracks }, order: [] }],
              nothingFits: [],
              departures: { order: [], requests: [] },
              moveUp: 'never',
            },
          ],
        }),
      );
    write(['Y8']);
    const tried = await runRecorded('staging', '--rules', path);
    write(['Z8']);
    const refused = await runRecorded('staging', '--rules', path);
    rmSync(folder, { recursive: true });
    expect(tried.exit).toBe(1);
    expect(tried.out).toContain('  1. Every train takes a track that has room and is track 8.');
    expect(tried.out).toContain('07:04 64   to track 8, rule 1 of 1');
    expect(tried.out).toMatch(/101 waits outside from 07:10 .*; a person is asked/);
    expect(refused.exit).toBe(1);
    expect(refused.err).toContain('there is no track Z8');
  });

  it('tries two rule sets and prints them side by side', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'blockbell-rules-'));
    const demo = exampleRules('vellin-valley')!;
    const write = (name: string, arrivals: unknown): string => {
      const path = join(folder, `${name}.json`);
      const yards = [{ ...demo.yards[0]!, arrivals, nothingFits: [] }];
      writeFileSync(path, JSON.stringify({ ...demo, name, yards }));
      return path;
    };
    const free = write('any-track', [{ order: [] }]);
    const one = write('one-track', [{ only: { is: 'track', of: ['Y8'] }, order: [] }]);
    const both = ['--rules', free, '--against-rules', one];
    const { out } = await runRecorded('staging', ...both);
    const json = JSON.parse((await runRecorded('staging', ...both, '--json')).out) as {
      sideBySide: { yard: string; figures: { what: string; first: number; second: number }[] }[];
    };
    const alone = await runRecorded('staging', '--against-rules', one);
    rmSync(folder, { recursive: true });
    expect(out).toContain('side by side: first “any-track”, second “one-track”');
    const [{ yard, figures }] = json.sideBySide as [(typeof json.sideBySide)[number]];
    expect(yard).toBe('undercroft');
    const lost = figures.find(({ what }) => what === 'find no track in the session')!;
    expect(lost.first).toBe(0);
    expect(lost.second).toBeGreaterThan(3);
    expect(out).toMatch(new RegExp(`find no track in the session +0 +${lost.second}`));
    expect(alone.err).toContain('--rules');
  });
});
