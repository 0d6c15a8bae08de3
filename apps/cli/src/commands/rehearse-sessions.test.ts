import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import {
  NO_DISTURBANCES,
  rehearseMany,
  rehearseOnce,
  USUAL_DISTURBANCES,
  type Comparison,
  type RehearsalReport,
  type SessionResult,
} from '@blockbell/rehearsals';
import { afterAll, describe, expect, it } from 'vitest';
import { loadFiles } from '../session-files.js';
import { passingLoopPaths } from '../testing/example-paths.js';
import { runRecorded } from '../testing/run-recorded.js';

const example = passingLoopPaths();
afterAll(() => rmSync(example.folder, { recursive: true }));

const rehearse = (...args: readonly string[]) =>
  runRecorded('rehearse', ...example.options, '--quiet', ...args);
const loaded = loadFiles({ example: 'passing-loop' });
if (!loaded.ok) throw new Error('the example has faults');
const { layout, stock, timetable } = loaded.files;
const plan = { layout, stock, timetable, disturbances: USUAL_DISTURBANCES } as const;

describe('blockbell rehearse --sessions', () => {
  it('writes tables, pictures, a page and every session to a folder, the same as single runs', async () => {
    const out = join(example.folder, 'out');
    const { exit } = await rehearse('--sessions', '2', '--seed', '12', '--out', out);
    expect(exit).toBe(0);
    const kept = JSON.parse(readFileSync(join(out, 'sessions.json'), 'utf8')) as [SessionResult[]];
    expect(kept[0].map(({ seed }) => seed)).toEqual([12, 13]);
    expect(kept[0][1]).toEqual(rehearseOnce({ ...plan, dispatching: 'plan' }, 13));
    for (const file of ['report.html', 'services.csv', 'waits.svg', 'yards.csv', 'report.json']) {
      expect(existsSync(join(out, file))).toBe(true);
    }
  });

  it('compares two ways of dispatching over the same seeds', async () => {
    const args = ['--dispatching', 'booked', '--against-dispatching', 'priority', '--json'];
    const { exit, out } = await rehearse('--sessions', '3', '--workers', '1', ...args);
    expect(exit).toBe(0);
    const { against, comparison } = JSON.parse(out) as {
      against: RehearsalReport;
      comparison: Comparison;
    };
    expect(against.dispatching).toBe('priority');
    expect(comparison.pairs).toBe(3);
  });

  it('does not compare a way with itself', async () => {
    const same = ['--dispatching', 'booked', '--against-dispatching', 'booked'];
    const { exit, err } = await rehearse('--sessions', '1', ...same);
    expect(exit).toBe(2);
    expect(err).toContain('the second way is the same as the first');
  });

  it('lets the trains return to where they began, so that each session ends as it began', async () => {
    const args = ['--dispatching', 'booked', '--disturbances', 'none', '--json'];
    const { out } = await rehearse('--sessions', '2', '--workers', '1', '--return', ...args);
    const { report } = JSON.parse(out) as { report: RehearsalReport };
    expect(report.returns).toBe(true);
    expect(report.ends.asBegan).toMatchObject({ hits: 2, of: 2 });
  });

  it('compares with another timetable, and refuses one that is not sound', async () => {
    const later = example.write(
      'later.json',
      JSON.stringify({ ...timetable, name: 'Later', clock: { ...timetable.clock, end: '09:10' } }),
    );
    const args = ['--sessions', '1', '--workers', '1', '--dispatching', 'booked'];
    const { out } = await rehearse(...args, '--against', later);
    expect(out).toContain('Later');
    expect(out).toContain('Second less first, over 1 seed');
    const wrong = example.write('wrong.json', JSON.stringify({ ...timetable, stock: 'other' }));
    const refused = await rehearse(...args, '--against', wrong);
    expect(refused).toMatchObject({ exit: 2, out: '' });
    expect(refused.err).toContain('wrong.json');
  });

  it('compares two sets of staging rules, and refuses one that can’t be run', async () => {
    const rules = (name: string, track: string): string =>
      example.write(
        `${name}.json`,
        JSON.stringify({
          kind: 'blockbell-staging-rules',
          version: 1,
          id: name,
          name,
          layout: 'vellin-valley',
          yards: [
            {
              yard: 'undercroft',
              arrivals: [{ only: { is: 'track', of: [track] }, order: [] }],
              nothingFits: [{ do: 'take', order: [] }],
              departures: { order: [], requests: [] },
              moveUp: 'never',
            },
          ],
        }),
      );
    const demo = ['--quiet', '--sessions', '1', '--workers', '1', '--dispatching', 'booked'];
    const two = ['--rules', rules('first-track', 'Y1'), '--against-rules', rules('last', 'Y8')];
    const { out } = await runRecorded('rehearse', ...demo, '--json', ...two);
    const { report, against } = JSON.parse(out) as Record<'report' | 'against', RehearsalReport>;
    expect([report.rules, against.rules]).toEqual(['first-track', 'last']);
    expect(report.digest).not.toBe(against.digest);
    const refused = await runRecorded('rehearse', ...demo, '--rules', rules('wrong', 'Z9'));
    expect(refused.exit).toBe(2);
    expect(refused.err).toContain('wrong.json');
  });

  it('keeps what was run when it is broken off', async () => {
    const breakOff = new AbortController();
    const { results, failed } = await rehearseMany({
      plans: [{ ...plan, disturbances: NO_DISTURBANCES, dispatching: 'booked' }],
      sessions: 1000,
      seed: 1,
      workers: 1,
      signal: breakOff.signal,
      tell: ({ done }) => {
        if (done === 2) breakOff.abort();
      },
    });
    expect(results[0]!.map(({ seed }) => seed)).toEqual([1, 2]);
    expect(failed).toEqual([]);
  });

  it('reports the others when one fails, and which', async () => {
    const sound = { ...plan, disturbances: NO_DISTURBANCES, dispatching: 'booked' } as const;
    const wrong = { ...sound, timetable: { ...plan.timetable, clock: null as never } };
    const { results, failed } = await rehearseMany({
      plans: [sound, wrong],
      sessions: 2,
      seed: 7,
      workers: 1,
    });
    expect(results.map((list) => list.map(({ seed }) => seed))).toEqual([[7, 8], []]);
    expect(failed).toMatchObject([
      { plan: 1, seed: 7 },
      { plan: 1, seed: 8 },
    ]);
  });

  it('refuses what belongs to one session, or to many', async () => {
    expect((await rehearse('--sessions', '2', '--journal', 'x')).err).toContain('leave out');
    expect((await rehearse('--workers', '2')).err).toContain('--sessions');
    expect((await rehearse('--sessions', '0')).err).toContain('at least 1');
    expect((await rehearse('--sessions', '5001')).err).toContain('at most 5000');
  });

  it('names the place of what is wrong in a file of disturbances', async () => {
    const file = example.write(
      'disturbances.json',
      JSON.stringify({
        kind: 'blockbell-disturbances',
        version: 1,
        lateStarts: { share: 30, by: { kind: 'uniform', least: 5, most: 2 } },
        storms: {},
      }),
    );
    const { exit, err } = await rehearse('--sessions', '1', '--disturbances', file);
    expect(exit).toBe(2);
    expect(err).toContain('lateStarts');
    expect(err).toContain('storms');
  });
});
