import { compileLayout, type LayoutFile } from '@blockbell/railway';
import { yardEnds } from '@blockbell/staging';
import { expect, it } from 'vitest';
import { holdingYard } from '../support/holding-yard.js';
import { exampleRailway } from '../support/railways.js';
import { twoYards } from '../support/two-yards.js';

const words = (layout: LayoutFile, yard: string): ReturnType<typeof yardEnds> =>
  yardEnds(
    compileLayout(layout),
    layout.stations.findIndex(({ id }) => id === yard),
  );

/** The layout with the two ends of a block joined the other way round. */
function turned(layout: LayoutFile, block: string): LayoutFile {
  const other = (port: string): string =>
    ({ [`${block}.a`]: `${block}.b`, [`${block}.b`]: `${block}.a` })[port] ?? port;
  const elements = layout.elements.map((element) =>
    element.kind === 'block' && element.id === block
      ? { ...element, directions: 'a-to-b' as const, stopMarks: {} }
      : element,
  );
  const joins = layout.joins.map(([one, two]) => [other(one), other(two)] as const);
  return { ...layout, elements, joins } as LayoutFile;
}

it('most tracks have the same two ends, called by what is beyond the throats; others are told apart', () => {
  const { usual, tracks } = words(exampleRailway('demo').layout, 'undercroft');
  expect(usual).toEqual(['block D1', 'block U14']);
  const stub = ['block D1 or block U11', 'the dead end'];
  expect(tracks).toEqual([...Array.from({ length: 8 }, () => null), stub, stub, stub]);
});

it('a track that lies the other way round is told', () => {
  const { usual, tracks } = words(turned(exampleRailway('demo').layout, 'Y2'), 'undercroft');
  expect(usual).toEqual(['block D1', 'block U14']);
  expect(tracks.slice(0, 3)).toEqual([null, ['block U14', 'block D1'], null]);
});

it('a station beyond is called by its name', () => {
  expect(words(twoYards().layout, 'near').usual).toEqual(['block L2', 'block L3']);
  expect(words(twoYards().layout, 'far').usual).toEqual(['block L4', 'the dead end']);
  expect(words(holdingYard.layout, 'holding').usual).toEqual(['Pennick', 'Highmarsh']);
});

it('a track that leads back to where it came from has the legs of the turnout', () => {
  const loop = twoYards().layout;
  const elements = loop.elements.filter(({ id }) => ['L2', 'T1', 'P1'].includes(id));
  const joins = [
    ['L2.b', 'T1.stem'],
    ['T1.straight', 'P1.a'],
    ['T1.diverging', 'P1.b'],
  ] as const;
  const near = loop.stations.filter(({ id }) => id === 'near');
  expect(words({ ...loop, elements, joins, stations: near }, 'near').usual).toEqual([
    'turnout T1 straight',
    'turnout T1 diverging',
  ]);
});
