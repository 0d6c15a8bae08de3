import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectOnlyFault } from '../../testing/expect-fault.js';
import {
  balloonLoop,
  block,
  bufferStop,
  crossing,
  layoutOf,
  reversing,
  turnout,
} from '../../testing/layout-parts.js';
import type { LayoutFile } from '../layout-file.js';
import { validateLayout } from '../validate-layout.js';

describe('polarity', () => {
  const shorts = (file: LayoutFile) =>
    validateLayout(file).filter((fault) => fault.text.includes('short circuit'));

  it('finds a balloon loop without a reversing section, and names the loop', () => {
    const found = shorts({ ...balloonLoop(), reversingSections: [] });
    expectOnlyFault(found, 'joins[', /comes back to itself reversed.*: (L, T|T, L)$/);
  });

  it('finds a wye', () => {
    const wye = layoutOf(
      [
        turnout('T1'),
        turnout('T2'),
        turnout('T3'),
        ...['A', 'B', 'C', 'X', 'Y', 'Z'].map((id) => block(id)),
        ...['X', 'Y', 'Z'].map((id) => bufferStop(`end-${id}`)),
      ],
      [
        'T1.straight A.a',
        'A.b T2.diverging',
        'T2.straight B.a',
        'B.b T3.diverging',
        'T3.straight C.a',
        'C.b T1.diverging',
        'T1.stem X.a',
        'T2.stem Y.a',
        'T3.stem Z.a',
        'X.b end-X.a',
        'Y.b end-Y.a',
        'Z.b end-Z.a',
      ],
    );
    expect(shorts(wye)).toHaveLength(1);
    const mended = {
      ...wye,
      reversingSections: [
        reversing(
          'R',
          ['C'],
          [
            { port: 'C.a', polarity: 'normal' },
            { port: 'C.b', polarity: 'reversed' },
          ],
        ),
      ],
    };
    expect(validateLayout(mended)).toEqual([]);
  });

  it('finds nothing in a ring, nor in a ring crossed by its own spur', () => {
    const ring = layoutOf([block('A'), block('B')], ['A.b B.a', 'B.b A.a']);
    expect(shorts(ring)).toEqual([]);
    // A figure of eight over a plain crossing: the two tracks of the crossing are insulated.
    const eight = layoutOf(
      [block('A'), block('B'), crossing('X')],
      ['X.c A.a', 'A.b X.b', 'X.d B.a', 'B.b X.a'],
    );
    expect(shorts(eight)).toEqual([]);
  });

  it('sees two ring blocks joined the wrong way round as a reversal', () => {
    const moebius = layoutOf(
      [block('A'), block('B'), turnout('T'), block('C')],
      ['A.b T.stem', 'T.straight B.a', 'T.diverging C.a', 'B.b C.b'],
    );
    expect(shorts(moebius)).toHaveLength(1);
  });

  it('does not care which way round blocks are written, only whether the way reverses', () => {
    const turned = fc.array(fc.boolean(), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(turned, fc.boolean(), (turns, reverses) => {
        const ends = turns.map((turn, index) =>
          turn ? [`B${index}.b`, `B${index}.a`] : [`B${index}.a`, `B${index}.b`],
        );
        // A chain from the diverging leg back to the turnout: into its stem (a ring) or its other leg (a loop).
        const chain = ends.slice(1).map(([begin], index) => `${ends[index]?.[1]} ${begin}`);
        const [close, open] = reverses ? ['straight', 'stem'] : ['stem', 'straight'];
        const file = layoutOf(
          [turnout('T'), ...turns.map((_, index) => block(`B${index}`)), bufferStop('E')],
          [
            `T.diverging ${ends[0]?.[0]}`,
            ...chain,
            `${ends.at(-1)?.[1]} T.${close}`,
            `T.${open} E.a`,
          ],
        );
        expect(shorts(file)).toHaveLength(reverses ? 1 : 0);
      }),
    );
  });
});
