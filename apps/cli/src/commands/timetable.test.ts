import { existsSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { exampleFiles } from '@blockbell/examples';
import type { ServiceId, TimetableFile } from '@blockbell/railway';
import { strToU8, zipSync } from 'fflate';
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

  it('says what it leaves out: services that name no train', async () => {
    const demo = exampleFiles('demo');
    const file = JSON.parse(demo.timetable) as TimetableFile;
    const { calls } = file.services.find(({ id }) => id === 'S61-1')!;
    const openServices = [
      { id: 'F1' as ServiceId, name: 'Freight', calls, waitAtMost: 30 },
      { id: 'F2' as ServiceId, name: 'Freight', calls, waitAtMost: 30 },
    ];
    const { err } = await runRecorded(
      'timetable',
      'check',
      paths.write('demo-layout.json', demo.layout),
      paths.write('demo-stock.json', demo.stock),
      paths.write('open.json', JSON.stringify({ ...file, openServices })),
    );
    expect(err).toMatch(/\.\n2 services name no train: .* when a train is given to each\.$/);
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

describe('blockbell timetable mend', () => {
  it('shows what it moves, writes the timetable where it is told to, and then nothing is found', async () => {
    const short = changed('to-mend.json', '"arrive": "08:11"', '"arrive": "08:06"');
    const out = paths.write('mended.json', '');
    const shown = await runRecorded('timetable', 'mend', layout, stock, short);
    expect(shown).toMatchObject({ exit: 0 });
    expect(shown.out).toMatch(/^S3-1 arrives Pennick 08:0\d instead of 08:06$/);
    expect(readFileSync(out, 'utf8')).toBe('');
    const written = await runRecorded('timetable', 'mend', layout, stock, short, '--out', out);
    expect(written.err).toMatch(
      /^1 time moved by \d min in all, \d+ with the weights of the trains, proven the least by whole minutes\.\n/,
    );
    expect(await runRecorded('timetable', 'check', layout, stock, out)).toMatchObject({ exit: 0 });
  });

  it('names what it can not mend', async () => {
    const full = changed('full.json', /"08:(2|3|4|5)/g, '"07:$1');
    const { exit, out, err } = await runRecorded('timetable', 'mend', layout, stock, full);
    expect(exit).toBe(1);
    expect(out).toMatch(
      /^breaks: S3-2 leaves Highmarsh at 07:25, before S3-1 has brought 3 there at 08:19; .*\n {2}proposal: leave Highmarsh at 08:20 instead of 07:25\n/,
    );
    expect(err).toBe(
      'No plan was found with departures at most 0 min earlier and 30 min later. ' +
        'Let departures move further, or change what the findings name.',
    );
  });
});

describe('blockbell timetable repeat', () => {
  it('writes a timetable with a service for each departure', async () => {
    const pattern = paths.write(
      'pattern.json',
      JSON.stringify({
        kind: 'blockbell-pattern',
        version: 1,
        patterns: [
          { services: ['S3-3'], every: 5, from: '08:45', until: '08:50', workings: ['W3'] },
        ],
      }),
    );
    const files = [layout, stock, timetable, '--pattern', pattern];
    const { exit, out } = await runRecorded('timetable', 'repeat', ...files);
    expect(exit).toBe(0);
    expect(
      (JSON.parse(out) as { services: { id: string }[] }).services.map(({ id }) => id),
    ).toEqual(['S3-1', 'S3-2', 'S47-1', 'S47-2', 'S47-3', 'S3-3.0845', 'S3-3.0850']);
  });

  it('writes nothing that has two services of one name', async () => {
    const round = { services: ['S3-3'], every: 5, from: '08:45', until: '08:50' };
    const patterns = ['W3', 'W47'].map((working) => ({ ...round, workings: [working] }));
    const pattern = paths.write(
      'twice.json',
      JSON.stringify({ kind: 'blockbell-pattern', version: 1, patterns }),
    );
    const files = [layout, stock, timetable, '--pattern', pattern];
    const { exit, out, err } = await runRecorded('timetable', 'repeat', ...files);
    expect({ exit, out }).toEqual({ exit: 1, out: '' });
    expect(err).toContain('S3-3.0845');
  });

  it('names faults of the pattern', async () => {
    const pattern = paths.write('odd.json', '{ "kind": "blockbell-pattern", "version": 1 }');
    const files = [layout, stock, timetable, '--pattern', pattern];
    const { exit, err } = await runRecorded('timetable', 'repeat', ...files);
    expect(exit).toBe(1);
    expect(err).toContain(`${pattern}: patterns`);
  });
});

describe('blockbell timetable capacity', () => {
  it('tells the share of the session for each stretch', async () => {
    const { exit, out } = await runRecorded('timetable', 'capacity', layout, stock, timetable);
    expect(exit).toBe(0);
    expect(out).toMatch(/^Pennick – Highmarsh +\d\d\.\d % {2}\d\d\.\d of 65\.0 min, 6 trains$/m);
  });
});

describe('blockbell timetable export and import', () => {
  it('are each other’s reverse', async () => {
    const csv = paths.write('services.csv', '');
    const out = paths.write('imported.json', '');
    const files = [layout, stock, timetable];
    expect((await runRecorded('timetable', 'export', ...files, '--out', csv)).exit).toBe(0);
    const read = await runRecorded('timetable', 'import', ...files, '--csv', csv, '--out', out);
    expect(read).toMatchObject({ exit: 0, err: `6 services read from ${csv}.` });
    expect(JSON.parse(readFileSync(out, 'utf8'))).toEqual(JSON.parse(text));
  });

  it('write nothing that names what is not there', async () => {
    const { out } = await runRecorded('timetable', 'export', layout, stock, timetable);
    const csv = paths.write('nowhere.csv', out.replace('pennick', 'nowhere'));
    const bad = await runRecorded('timetable', 'import', layout, stock, timetable, '--csv', csv);
    expect(bad).toMatchObject({ exit: 1, out: '' });
    expect(bad.err).toMatch(/nowhere\.csv: services\[0\] S3-1.*: .*nowhere.*\n {2}mend: /);
  });

  it('name bad rows with file and line', async () => {
    const { out } = await runRecorded('timetable', 'export', layout, stock, timetable);
    const csv = paths.write('bad.csv', out.replace('08:11', '8.11'));
    const bad = await runRecorded('timetable', 'import', layout, stock, timetable, '--csv', csv);
    expect(bad.exit).toBe(1);
    expect(bad.err).toBe(
      `${csv}: line 3: arrive is “8.11”\n  mend: write HH:MM or HH:MM:SS with two digits for the hours, or nothing`,
    );
  });
});

describe('blockbell timetable import-feed', () => {
  it('takes a day of a feed, and names what is wrong in it', async () => {
    const feed = paths.write('feed.zip', '');
    const tables = {
      'stops.txt': 'stop_id\nL\nH\n',
      'trips.txt': 'service_id,trip_id,block_id\nall,1,b1\n',
      'stop_times.txt':
        'trip_id,stop_id,stop_sequence,arrival_time,departure_time\n' +
        '1,L,1,8:05:00,8:05:00\n1,H,2,8:14:00,8:14:00\n',
      'calendar_dates.txt': 'service_id,date,exception_type\nall,20260302,1\n',
    };
    const archive = (changed: object): void =>
      writeFileSync(
        feed,
        zipSync(
          Object.fromEntries(
            Object.entries({ ...tables, ...changed }).map(([name, it]) => [name, strToU8(it)]),
          ),
        ),
      );
    const map = paths.write(
      'map.json',
      JSON.stringify({
        kind: 'blockbell-feed-map',
        version: 1,
        date: '20260302',
        stops: { L: 'lowmarsh', H: 'highmarsh' },
        blocks: { b1: 'W3' },
      }),
    );
    const out = paths.write('from-feed.json', '');
    const named = ['--feed', feed, '--map', map, '--out', out];
    const run = () => runRecorded('timetable', 'import-feed', layout, stock, timetable, ...named);
    archive({});
    expect(await run()).toMatchObject({
      exit: 0,
      err: '1 service taken, 0 trips of the day left out: no mapped block, or fewer than two mapped stops.',
    });
    expect((await runRecorded('timetable', 'check', layout, stock, out)).exit).toBe(0);
    archive({ 'stop_times.txt': tables['stop_times.txt'].replace('8:14:00', '8.14') });
    const bad = await run();
    expect(bad.exit).toBe(1);
    expect(bad.err).toContain(`${feed}: stop_times.txt, line 3: arrival_time is “8.14”`);
    archive({ 'stops.txt': 'stop_id\nL\n' });
    expect((await run()).err).toContain(`${map}: stops: the feed has no stop H`);
    archive({});
    writeFileSync(map, readFileSync(map, 'utf8').replace('"highmarsh"', '"nowhere"'));
    rmSync(out);
    const unknown = await run();
    expect(unknown.exit).toBe(1);
    expect(unknown.err).toContain(`${feed} with ${map}: services[0] G1`);
    expect(existsSync(out)).toBe(false);
  });
});
