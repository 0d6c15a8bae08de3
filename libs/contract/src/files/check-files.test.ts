import { describe, expect, it } from 'vitest';
import { checkFiles } from './check-files.js';
import { sampleLayout, sampleStock, sampleTimetable, write } from './testing/sample-files.js';

const named = (layout: unknown, stock: unknown, timetable: unknown) => [
  { name: 'layout.json', text: write(layout) },
  { name: 'stock.json', text: write(stock) },
  { name: 'timetable.json', text: write(timetable) },
];

describe('checkFiles', () => {
  it('compiles sound files', () => {
    const checked = checkFiles(named(sampleLayout(), sampleStock(), sampleTimetable()));
    expect(checked.faults).toEqual([]);
    expect(checked.layout?.routes.map((it) => it.id)).toEqual(['W>E', 'E>W']);
    expect(checked.stock?.trains[0]?.length).toBe(380);
    expect(checked.timetable?.services).toHaveLength(1);
  });

  it('takes files in any order', () => {
    const files = named(sampleLayout(), sampleStock(), sampleTimetable()).reverse();
    expect(checkFiles(files)).toMatchObject({ faults: [], timetable: { ratio: 6 } });
  });

  it('checks a layout or a stock alone', () => {
    const [layout, stock] = named(sampleLayout(), sampleStock(), null);
    expect(checkFiles(layout ? [layout] : [])).toMatchObject({ faults: [], layout: {} });
    expect(checkFiles(stock ? [stock] : [])).toMatchObject({ faults: [], stock: {} });
  });

  it('names the faults of all files together, each with its file', () => {
    const layout = sampleLayout();
    Object.assign(layout, { scaleRatio: 0 });
    const stock = sampleStock();
    Object.assign(stock.trains[0] ?? {}, { priority: 0 });
    const timetable = sampleTimetable();
    timetable.clock.ratio = 0;
    const checked = checkFiles([
      ...named(layout, stock, timetable),
      { name: 'notes', text: 'hello' },
    ]);
    expect(checked.faults.map((it) => `${it.file} ${it.place}`).sort()).toEqual([
      'layout.json scaleRatio',
      'notes line 1, column 1',
      'stock.json trains[0] T1',
      'timetable.json clock ratio',
    ]);
    expect(checked).toEqual({ faults: checked.faults });
  });

  it('checks the timetable against layout and stock', () => {
    const timetable = sampleTimetable();
    Object.assign(timetable.storedPlaces[0] ?? {}, { block: 'X' });
    const checked = checkFiles(named(sampleLayout(), sampleStock(), timetable));
    expect(checked.faults).toMatchObject([
      { file: 'timetable.json', place: 'storedPlaces[0] T1', text: 'there is no block X' },
    ]);
    expect(checked.layout).toBeDefined();
    expect(checked.timetable).toBeUndefined();
  });

  it('says which file a timetable needs beside it', () => {
    const checked = checkFiles([{ name: 't', text: write(sampleTimetable()) }]);
    expect(checked.faults.map((it) => `${it.place}: ${it.text}`)).toEqual([
      "layout: the layout file line was not given, so the timetable can't be checked against it",
      "stock: the stock file one-train was not given, so the timetable can't be checked against it",
    ]);
  });

  it('refuses a second file of a kind', () => {
    const checked = checkFiles([
      { name: 'one', text: write(sampleLayout()) },
      { name: 'two', text: write(sampleLayout()) },
    ]);
    expect(checked.faults).toMatchObject([
      { file: 'two', place: 'kind', text: 'it is a second blockbell-layout file beside one' },
    ]);
  });
});
