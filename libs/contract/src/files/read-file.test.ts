import { contentHash } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { readFile } from './read-file.js';
import { sampleLayout, sampleStock, sampleTimetable, write } from './testing/sample-files.js';

/** The faults of a text as `place: text (mend)`. */
function faultsOf(text: string): string[] {
  const outcome = readFile(text);
  return outcome.ok ? [] : outcome.faults.map((it) => `${it.place}: ${it.text} (${it.mend})`);
}

describe('readFile', () => {
  it.each([
    ['layout', sampleLayout()],
    ['stock', sampleStock()],
    ['timetable', sampleTimetable()],
  ])('reads a %s file unchanged', (_, file) => {
    const outcome = readFile(write(file));
    expect(outcome.ok && outcome.file).toEqual(file);
    expect(outcome.ok && contentHash(outcome.file)).toBe(contentHash(file));
  });

  it('names line and column of broken JSON', () => {
    expect(faultsOf('{\n  "kind": "blockbell-stock",\n  "version" 1\n}')).toEqual([
      'line 3, column 13: there is "1" where ":" is expected (correct the file here: it is not well-formed JSON)',
    ]);
  });

  it.each([
    ['[]', /^file: the file is no object/],
    ['{}', /^kind: the file names no kind \(enter one of blockbell-layout, /],
    ['{"kind": "recipe"}', /^kind: "recipe" is no kind of file/],
    [
      '{"kind": "blockbell-stock", "version": 2}',
      /^version: the file has format version 2; this program reads/,
    ],
  ])('refuses %s', (text, fault) => {
    expect(faultsOf(text)).toEqual([expect.stringMatching(fault)]);
  });
});

describe('faults of shape', () => {
  it('have a path with the names on the way, and all come together', () => {
    const layout = sampleLayout();
    Object.assign(layout.elements[0] ?? {}, { directions: 'up', speedlimit: 40 });
    Object.assign(layout.elements[2] ?? {}, { kind: 'buffer' });
    Object.assign(layout.detectorTypes[0] ?? {}, { readsAtOnce: '4' });
    Object.assign(layout, { name: undefined });
    expect(faultsOf(write(layout)).sort()).toEqual([
      'detectorTypes[0] reader.readsAtOnce: "4" is not a number (enter a number)',
      'elements[0] W.directions: "up" is not "both" or "a-to-b" or "b-to-a" (enter "both" or "a-to-b" or "b-to-a")',
      'elements[0] W: there is no field "speedlimit" here (correct its name or remove it)',
      expect.stringMatching(/^elements\[2\] WE\.kind: "buffer" is not "block" or "turnout" or /),
      'name: this field is missing (add it: a text)',
    ]);
  });

  it('refuse fractions of a millimetre', () => {
    const layout = sampleLayout();
    Object.assign(layout.elements[0] ?? {}, { detection: [{ section: null, length: 10.5 }] });
    expect(faultsOf(write(layout))).toEqual([
      'elements[0] W.detection[0].length: 10.5 is not a whole number (enter a whole number)',
    ]);
  });

  it('take a vehicle for what it resembles most', () => {
    const stock = sampleStock();
    Object.assign(stock.trains[0] ?? {}, { vehicles: [{ car: 'van', count: '2' }] });
    expect(faultsOf(write(stock))).toEqual([
      'trains[0] T1.vehicles[0].count: "2" is not a number (enter a number)',
    ]);
  });

  it('refuse a join of three', () => {
    const layout = { ...sampleLayout(), joins: [['WE.a', 'W.a', 'E.a']] };
    const [only] = faultsOf(write(layout));
    expect(only).toMatch(/^joins\[0\]: /);
  });

  it('refuse a list where an object is wanted', () => {
    const timetable = { ...sampleTimetable(), clock: [] };
    expect(faultsOf(write(timetable))).toEqual([
      'clock: a list is not an object (enter an object)',
    ]);
  });
});
