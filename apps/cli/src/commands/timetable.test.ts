import { readFileSync, rmSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { passingLoopPaths } from '../testing/example-paths.js';
import { runRecorded } from '../testing/run-recorded.js';

const paths = passingLoopPaths();
afterAll(() => rmSync(paths.folder, { recursive: true }));

const [layout = '', stock = '', timetable = ''] = paths.options.filter((_, i) => i % 2 === 1);
const text = readFileSync(timetable, 'utf8');

/** The timetable with one text in place of another. */
const changed = (name: string, from: string | RegExp, to: string): string =>
  paths.write(name, text.replace(from, to));

describe('blockbell timetable check', () => {
  it('has nothing to say about one that can be kept, in any order of files', async () => {
    const { exit, out, err } = await runRecorded('timetable', 'check', timetable, stock, layout);
    expect({ exit, out, err }).toEqual({
      exit: 0,
      out: '',
      err: 'The timetable can be kept: no finding.',
    });
  });

  it('names each finding with a proposal, and fails for what breaks the timetable', async () => {
    const short = changed('short.json', '"arrive": "08:11"', '"arrive": "08:06"');
    const { exit, out, err } = await runRecorded('timetable', 'check', layout, stock, short);
    expect(exit).toBe(1);
    expect(out).toMatch(
      /^breaks: S3-1 \(3\) is booked in 1 min from Lowmarsh to Pennick; .*\n {2}proposal: arrive at Pennick at /,
    );
    expect(err).toBe('1 finding breaks the timetable.');
  });

  it('does not fail for what is tight, and gives the same as JSON', async () => {
    const tight = changed('tight.json', '"arrive": "08:11"', '"arrive": "08:12:30"');
    const { exit, out } = await runRecorded('timetable', 'check', '--json', layout, stock, tight);
    expect(exit).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      faults: [],
      findings: [{ kind: 'dwell', weight: 'tight', services: ['S3-1'], missing: 30_000 }],
    });
  });

  it('names faults of the files with their mend', async () => {
    const noon = changed('noon.json', '"arrive": "08:11"', '"arrive": "noon"');
    const { exit, out } = await runRecorded('timetable', 'check', layout, stock, noon);
    expect(exit).toBe(1);
    expect(out).toMatch(/"noon" is no time\n {2}mend: /);
  });

  it('refuses two files, and files beside an example', async () => {
    expect((await runRecorded('timetable', 'check', layout, stock)).exit).toBe(2);
    expect(
      (await runRecorded('timetable', 'check', '--example', 'demo', layout, stock, timetable)).exit,
    ).toBe(2);
  });
});
