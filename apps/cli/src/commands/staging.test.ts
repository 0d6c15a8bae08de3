import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TimetableFile } from '@blockbell/railway';
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
});
