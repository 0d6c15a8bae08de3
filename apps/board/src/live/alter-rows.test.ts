import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ElementView, SectionView } from '@blockbell/contract/messages';
import { trainRow } from '../testing/train-row.js';
import { alterRows } from './alter-rows.js';
import { mergeRows, noRows, type LiveRows } from './live-rows.js';

const element = (number: number, says: number): ElementView =>
  ({ element: number, says }) as unknown as ElementView;

/** A copy of the state with sections, elements and trains, each with something that differs. */
const state = fc
  .record({
    sections: fc.uniqueArray(fc.tuple(fc.nat(4), fc.nat(2)), { selector: ([number]) => number }),
    trains: fc.uniqueArray(fc.tuple(fc.nat(2), fc.nat(2)), { selector: ([number]) => number }),
  })
  .map(({ sections, trains }) => {
    const rows = noRows();
    mergeRows(rows, {
      sections: sections.map(([section, says]) => ({ section, says }) as unknown as SectionView),
      elements: [element(0, 0), element(1, 0), element(2, 0)],
      trains: trains.map(([train, at]) =>
        trainRow({ train, path: [{ element: at, from: 'a', to: 'b', approach: false }] as never }),
      ),
    });
    return rows;
  });

const told = ({ sections, elements, trains }: LiveRows) => ({
  sections: [...sections.keys()].map((number) => [number, sections.get(number)]),
  elements: [...elements.keys()].map((number) => [number, elements.get(number)]),
  trains: [...trains],
});

describe('rows that are altered', () => {
  it('are those of the other state, in its order', () => {
    fc.assert(
      fc.property(state, state, (live, others) => {
        alterRows(live, others);
        expect(told(live)).toEqual(told(others));
      }),
    );
  });

  it('tell of the elements on paths that changed, and of no others', () => {
    fc.assert(
      fc.property(state, state, (live, others) => {
        const watch = live.elements.watch();
        const numbers = new Set([...live.trains.keys(), ...others.trains.keys()]);
        const expected = new Set<number>();
        for (const train of numbers) {
          const paths = [live, others].map(({ trains }) => trains.get(train)?.path ?? []);
          if (JSON.stringify(paths[0]) === JSON.stringify(paths[1])) continue;
          for (const { element: touched } of paths.flat()) expected.add(touched);
        }
        alterRows(live, others);
        expect([...watch.take()].toSorted()).toEqual([...expected].toSorted());
      }),
    );
  });
});
