import { exampleFiles } from '@blockbell/examples';
import { exampleRules } from '@blockbell/examples/rules';
import { compileLayout, compileStock, type LayoutFile, type StockFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { checkFiles } from './check-files.js';
import { readStagingRules } from './read-staging-rules.js';

const texts = exampleFiles('demo');
const layout = compileLayout(JSON.parse(texts.layout) as LayoutFile);
const stock = compileStock(JSON.parse(texts.stock) as StockFile);
const rules = exampleRules(layout.file.id)!;
const [yard] = rules.yards;

const faultsOf = (file: object): string[] => {
  const read = readStagingRules(JSON.stringify(file), layout, stock);
  return read.ok ? [] : read.faults.map(({ place, text }) => `${place}: ${text}`);
};

/** The demo's rules with one yard changed. */
const withYard = (change: object): object => ({ ...rules, yards: [{ ...yard, ...change }] });

describe('staging rules with faults of shape', () => {
  it('have the faults of their values told at once, each at its place', () => {
    const file = withYard({
      moveUp: 'sometimes',
      arrivals: [
        { order: 'nearest', only: { is: 'track', of: ['Y99'] } },
        { when: { is: 'longer', than: '3' }, order: [{ by: 'random', seed: -1 }] },
        { when: { is: 'all', of: [7, { is: 'train', of: ['T999'] }] }, order: [] },
        { when: { is: 'not', of: { is: 'leaving', within: 0 } }, order: [], els: 1 },
      ],
      nothingFits: [
        { do: 'hold', minutes: 'ten' },
        { do: 'take', order: [{ by: 'call' }, { by: 'call' }], only: 3 },
        { do: 'overflow', to: yard!.yard },
      ],
      departures: { order: 1, requests: [{ fewerThan: 0, minutes: 5 }, { minutes: 2000 }] },
    });
    const id = `yards[0] ${yard!.yard}`;
    const found = faultsOf(file);
    expect(found.filter((text) => !text.startsWith(id))).toHaveLength(9);
    expect(found.filter((text) => text.startsWith(id))).toEqual([
      `${id}.arrivals[0].only.of[0]: there is no track Y99`,
      expect.stringContaining(`${id}.arrivals[1].order[0].seed: the seed `),
      `${id}.arrivals[2].when.of[1].of[0]: there is no train T999`,
      expect.stringContaining(`${id}.arrivals[3].when.of.within: the number of minutes `),
      expect.stringContaining(`${id}.nothingFits[1].order[1]: `),
      `${id}.nothingFits[2].to: a yard can’t be its own overflow`,
      expect.stringContaining(`${id}.departures.requests[0].fewerThan: the number of trains `),
      `${id}.departures.requests[1].minutes: the time is 2000 minutes`,
    ]);
  });

  it('are told of a yard without a name as well, and of nothing that only follows from that', () => {
    const order = [{ by: 'random', seed: -1 }];
    const found = faultsOf(withYard({ yard: 5, arrivals: [{ order }] }));
    expect(found).toEqual([
      expect.stringMatching(/^yards\[0\]\.yard: 5 is not /),
      expect.stringMatching(/^yards\[0\]\.arrivals\[0\]\.order\[0\]\.seed: the seed /),
    ]);
  });

  it.each([
    ['no list of yards', { ...rules, yards: 3 }],
    ['a yard that is a text', { ...rules, yards: ['Y'] }],
    ['lists that are none', withYard({ arrivals: 1, nothingFits: {}, departures: null })],
    ['rules that are none', withYard({ arrivals: [null, []], nothingFits: [2] })],
  ])('have no faults made up for %s', (_, file) => {
    expect(faultsOf(file).filter((text) => !/missing|is not/.test(text))).toEqual([]);
  });

  it('are told with the others when files are checked together', () => {
    const text = JSON.stringify({ ...rules, name: 4, layout: 'elsewhere' });
    const named = Object.entries({ layout: texts.layout, stock: texts.stock, rules: text });
    const { faults } = checkFiles(named.map(([name, it]) => ({ name, text: it })));
    expect(faults.map(({ file, place }) => `${file} ${place}`)).toEqual([
      'rules name',
      'rules layout',
    ]);
  });
});
