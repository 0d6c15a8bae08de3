import { exampleFiles } from '@blockbell/examples';
import type { CallFile, ServiceFile, TimetableFile } from '@blockbell/railway';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from './read-csv.js';
import { writeCsv } from './write-csv.js';

const timetableOf = (name: 'demo' | 'passing-loop'): TimetableFile =>
  JSON.parse(exampleFiles(name).timetable) as TimetableFile;
const timetable = timetableOf('passing-loop');

const clock = fc
  .tuple(fc.integer({ min: 0, max: 47 }), fc.integer({ min: 0, max: 59 }))
  .map((parts) => parts.map((part) => String(part).padStart(2, '0')).join(':'));
const track = fc.constantFrom('1', '2', 'bay', 'Y8');
const call: fc.Arbitrary<CallFile> = fc.record(
  {
    station: fc.constantFrom('lowmarsh', 'pennick', 'highmarsh') as fc.Arbitrary<
      CallFile['station']
    >,
    arrive: clock,
    depart: clock,
    stop: fc.constantFrom('call', 'pass'),
    tracks: fc.array(track, { minLength: 1, maxLength: 3 }),
    dwell: fc.record({ fast: fc.nat(600), real: fc.nat(60) }),
  },
  { requiredKeys: ['station'] },
);
/** Names as people write them: with commas, quotes and several lines, but no blanks at the ends. */
const name = fc
  .array(fc.constantFrom('Up', ',', '"', ';', '\n', 'é', ' ', '–'), { maxLength: 8 })
  .map((parts) => parts.join('').trim());

describe('a timetable in CSV', () => {
  it.each(['demo', 'passing-loop'] as const)('comes back as it was: %s', (example) => {
    const file = timetableOf(example);
    expect(readCsv(writeCsv(file), file)).toEqual({ ok: true, timetable: file });
  });

  it('comes back as it was, whatever its services are called and leave open', () => {
    const service = fc.record({ name, calls: fc.array(call, { minLength: 1, maxLength: 5 }) });
    fc.assert(
      fc.property(fc.array(service, { minLength: 1, maxLength: 6 }), (all) => {
        const services = all.map((it, i): ServiceFile => ({
          ...it,
          id: `S${i}` as ServiceFile['id'],
        }));
        const file = {
          ...timetable,
          services,
          workings: [{ ...timetable.workings[0]!, services: services.map(({ id }) => id) }],
        };
        const read = readCsv(writeCsv(file), file);
        if (!read.ok) throw new Error(read.faults[0]!.text);
        expect(read.timetable.services).toEqual(services);
        expect(new Set(read.timetable.workings[0]!.services)).toEqual(
          new Set(services.map(({ id }) => id)),
        );
      }),
      { numRuns: 60 },
    );
  });

  it('lets workings run their services in order of time, and at one moment in the order of the rows', () => {
    const at = (id: string, depart: string): ServiceFile => ({
      id: id as ServiceFile['id'],
      name: id,
      calls: [{ ...timetable.services[0]!.calls[0]!, depart }],
    });
    const services = [at('S1', '08:05:00'), at('S2', '08:05'), at('S3', '08:04:30')];
    const file = {
      ...timetable,
      services,
      workings: [{ ...timetable.workings[0]!, services: services.map(({ id }) => id) }],
    };
    expect(readCsv(writeCsv(file), file)).toMatchObject({
      timetable: { workings: [{ services: ['S3', 'S1', 'S2'] }] },
    });
  });

  it('may come from a spreadsheet: with a byte order mark, semicolons and other columns', () => {
    const text = writeCsv(timetable)
      .replaceAll(',', ';')
      .replace(/^service/, '\uFEFFnote;service');
    const lines = text.split('\n').map((line, i) => (i === 0 || line === '' ? line : `x;${line}`));
    expect(readCsv(lines.join('\n'), timetable)).toEqual({ ok: true, timetable });
  });

  it('names every bad row by its line, with what mends it', () => {
    const lines = writeCsv(timetable).split('\n');
    lines[1] = 'S3-1,Shuttle 1,W9,lowmarsh,,8:05,,,,';
    lines[2] = 'S3-1,Shuttle 1,W3,,08:11,08:13,halt,,60,';
    const read = readCsv(lines.join('\n'), timetable);
    if (read.ok) throw new Error('taken');
    expect(read.faults.map(({ place, text }) => `${place}: ${text}`)).toEqual([
      'line 2: depart is “8:05”',
      'line 2: there is no working W9',
      'line 3: station is empty',
      'line 3: stop is “halt”',
      'line 3: only one of the two dwells is given',
    ]);
    expect(read.faults.every(({ mend }) => mend.length > 0)).toBe(true);
  });

  it('is refused where it is none, or lacks columns', () => {
    const faultOf = (text: string): unknown => readCsv(text, timetable);
    expect(faultOf('')).toMatchObject({ faults: [{ place: 'line 1' }] });
    expect(faultOf('service,name\nS1,x\n')).toMatchObject({
      faults: [{ text: expect.stringContaining('columns are missing: working') as string }],
    });
    expect(faultOf('service,name\nS1,"x\n')).toMatchObject({ ok: false });
    expect(faultOf('service,name\nS1,x,y\n')).toMatchObject({ faults: [{ place: 'line 2' }] });
  });
});
