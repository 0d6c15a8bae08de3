import type { Layout, Stock } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { checkFiles } from './check-files.js';
import { readScriptedFaults } from './read-scripted-faults.js';
import { sampleLayout, sampleStock, write } from './testing/sample-files.js';

const { layout, stock } = soundSample();

function soundSample(): { layout: Layout; stock: Stock } {
  const checked = checkFiles([
    { name: 'layout', text: write(sampleLayout()) },
    { name: 'stock', text: write(sampleStock()) },
  ]);
  if (!checked.layout || !checked.stock) throw new Error('the sample has faults');
  return { layout: checked.layout, stock: checked.stock };
}

const read = (...faults: readonly object[]) =>
  readScriptedFaults(
    JSON.stringify({ kind: 'blockbell-faults', version: 1, faults }),
    layout,
    stock,
  );

describe('a file of scripted faults', () => {
  it('names sections, trains, elements and districts; read, they are numbers', () => {
    const section = layout.sections[1]?.id;
    const block = layout.elements.find(({ kind }) => kind === 'block');
    const train = stock.trains[0]?.file.id;
    const district = layout.districts[0];
    expect(
      read(
        { kind: 'dropout', at: 1000, duration: 200, section },
        { kind: 'late', at: 0, duration: null, section: null, messages: 'edges', by: 300 },
        { kind: 'hand-moved', at: 5, train, to: { block: block?.id, towards: 'a' } },
        { kind: 'power-loss', at: 9, duration: 4000, district },
      ),
    ).toEqual({
      ok: true,
      faults: [
        { kind: 'dropout', at: 1000, duration: 200, section: 1 },
        { kind: 'late', at: 0, duration: null, section: null, messages: 'edges', by: 300 },
        { kind: 'hand-moved', at: 5, train: 0, to: (block?.index ?? -1) * 2 + 1 },
        { kind: 'power-loss', at: 9, duration: 4000, district: 0 },
      ],
    });
  });

  it('is refused with everything that is wrong in it', () => {
    const outcome = read(
      { kind: 'stall', at: 0, duration: null, train: 'nobody' },
      { kind: 'dropout', at: -1, duration: 200, section: 'nowhere' },
      { kind: 'mischief', at: 0 },
    );
    const wrong = outcome.ok ? [] : outcome.wrong;
    expect(wrong.map(({ place, text }) => `${place}: ${text}`)).toEqual([
      'faults[0].train: there is no train nobody',
      expect.stringMatching(/^faults\[1\]\.at: /),
      'faults[1].section: there is no section nowhere',
      expect.stringMatching(/^faults\[2\]\.kind: "mischief" is not "dropout" or /),
    ]);
  });

  it('is refused where it is no JSON', () => {
    expect(readScriptedFaults('{', layout, stock)).toMatchObject({
      ok: false,
      wrong: [{ place: 'line 1, column 2' }],
    });
  });
});
