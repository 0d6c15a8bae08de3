import { describe, expect, it } from 'vitest';
import { expectFault, expectOnlyFault } from '../../testing/expect-fault.js';
import { block, bufferStop, layoutOf, passingLoop, station } from '../../testing/layout-parts.js';
import { sharedPlatform } from '../../testing/shared-platform.js';
import { mm } from '../../units.js';
import type { LayoutFile } from '../layout-file.js';
import { validateLayout } from '../validate-layout.js';

describe('stations', () => {
  it.each<[string, LayoutFile['stations'][number], RegExp]>([
    ['of an unknown block', station('Q', 0, ['x']), /no block x/],
    ['of something that is no block', station('Q', 0, ['TW']), /TW is a turnout, not a block/],
    ['without a block', station('Q', 0, []), /no block/],
    ['whose slots are not end to end', station('Q', 0, ['W', 'M']), /slot M doesn't follow W/],
    ['with a block of another track', station('Q', 0, ['M', 'M']), /block M is already used/],
  ])('with a track %s', (_, added, text) => {
    expectFault(
      validateLayout({ ...passingLoop(), stations: [added] }),
      'stations[0] Q tracks[0] t1',
      text,
    );
  });

  it('may have tracks of several slots, written from either end', () => {
    const file = (slots: string[]): LayoutFile =>
      layoutOf(
        [bufferStop('E'), block('A'), block('B'), block('C'), bufferStop('F')],
        ['E.a A.a', 'A.b B.b', 'B.a C.a', 'C.b F.a'],
        { stations: [station('Q', 0, slots)] },
      );
    expect(validateLayout(file(['A', 'B', 'C']))).toEqual([]);
    expect(validateLayout(file(['C', 'B', 'A']))).toEqual([]);
    expectOnlyFault(
      validateLayout(file(['A', 'C', 'B'])),
      'stations[0] Q tracks[0]',
      /C doesn't follow A/,
    );
  });

  it('call trains on only into a station track that is divided, with room to stop short', () => {
    const file = (
      change: Partial<LayoutFile['stations'][number]['tracks'][number]>,
    ): LayoutFile => {
      const layout = sharedPlatform();
      const stations = layout.stations.map((it) =>
        it.id === 'Middle'
          ? { ...it, tracks: it.tracks.map((track) => ({ ...track, ...change })) }
          : it,
      );
      return { ...layout, stations };
    };
    expect(validateLayout(file({}))).toEqual([]);
    const [pa] = file({}).stations[1]!.tracks[0]!.blocks;
    expectOnlyFault(
      validateLayout(file({ blocks: [pa!] })),
      'stations[1] Middle tracks[0] t1',
      /the track is one block/,
    );
    const yard = file({});
    expectOnlyFault(
      validateLayout({
        ...yard,
        stations: yard.stations.map((it) => ({ ...it, kind: 'staging-yard' as const })),
      }),
      'stations[1] Middle tracks[0] t1',
      /nobody is called on in a staging-yard/,
    );
    const near = file({});
    expectOnlyFault(
      validateLayout({
        ...near,
        elements: near.elements.map((it) =>
          it.kind === 'block' && it.id === 'PA' ? { ...it, stopMarks: { b: mm(90) } } : it,
        ),
      }),
      'stations[1] Middle tracks[0] t1 stop mark b of PA',
      /stops 90 mm from the block in which another stands/,
    );
  });
});
