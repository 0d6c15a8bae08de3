import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { elementOf } from '../testing/edit.js';
import { expectFault } from '../testing/expect-fault.js';
import { damaged } from '../testing/fuzz.js';
import { faultsAfter } from '../testing/layout-faults.js';
import {
  balloonLoop,
  block,
  bufferStop,
  crossing,
  layoutOf,
  passingLoop,
  slip,
  threeWay,
  turnout,
} from '../testing/layout-parts.js';
import { mm } from '../units.js';
import type { LayoutFile } from './layout-file.js';
import { compileLayout } from './compile-layout.js';
import { validateLayout } from './validate-layout.js';

/** Everything at once: each kind of element, ends closed by buffer stops. */
const everyKind = (): LayoutFile => {
  const ends = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'];
  return layoutOf(
    [
      ...ends.map((id) => block(id)),
      ...ends.map((id) => bufferStop(`end-${id}`)),
      slip('X', 'double-slip'),
      slip('Y', 'single-slip'),
      crossing('Z'),
      threeWay('W'),
      turnout('T'),
      block('P'),
      block('Q'),
      block('R'),
      block('S'),
    ],
    [
      ...ends.map((id) => `${id}.a end-${id}.a`),
      'A.b X.a',
      'B.b X.b',
      'X.c P.a',
      'X.d Q.a',
      'P.b Y.a',
      'Q.b Y.b',
      'Y.c R.a',
      'Y.d S.a',
      'R.b Z.a',
      'S.b Z.b',
      'Z.c W.stem',
      'Z.d T.stem',
      'W.left C.b',
      'W.straight D.b',
      'W.right E.b',
      'T.straight F.b',
      'T.diverging G.b',
      'H.b end-H2.a',
    ],
    {},
  );
};

describe('sound layouts', () => {
  it('have no fault', () => {
    expect(validateLayout(passingLoop())).toEqual([]);
    expect(validateLayout(balloonLoop())).toEqual([]);
    const all = everyKind();
    expect(validateLayout({ ...all, elements: [...all.elements, bufferStop('end-H2')] })).toEqual(
      [],
    );
  });
});

describe('all faults in one go', () => {
  it('names faults of different themes together', () => {
    const faults = faultsAfter((file) => {
      file.levels[0]!.id = '1';
      file.sections[0]!.bus = 'x';
      file.joins.pop();
      elementOf(file, 'M', 'block').detection[0]!.length = mm(0);
      file.stations[0]!.tracks[0]!.blocks = [];
    });
    expectFault(faults, 'levels[0]', /no valid id/);
    expectFault(faults, 'sections[0]', /no bus/);
    expectFault(faults, 'elements[7] EB port a', /nothing is joined/);
    expectFault(faults, 'elements[3] M', /is 0 mm/);
    expectFault(faults, 'stations[0]', /no block/);
  });

  it('does not stumble over an empty or a muddled file', () => {
    expect(validateLayout(layoutOf([], []))).toEqual([]);
    const muddled = faultsAfter((file) => {
      file.elements.push(...file.elements);
      file.joins.push(...file.joins);
    });
    expect(muddled.length).toBeGreaterThan(8);
  });

  it('never stumbles, and what it passes compiles', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(passingLoop(), balloonLoop()),
        fc.array(fc.tuple(fc.nat(), fc.nat(3), fc.nat()), { minLength: 1, maxLength: 4 }),
        (sound, damage) => {
          const file = damaged(sound, damage);
          expect(() => {
            if (validateLayout(file).length === 0) compileLayout(file);
          }).not.toThrow();
        },
      ),
      { numRuns: 500 },
    );
  });
});
