import { describe, it } from 'vitest';
import { elementOf } from '../../testing/edit.js';
import { expectFault, expectOnlyFault } from '../../testing/expect-fault.js';
import { faultsAfter } from '../../testing/layout-faults.js';
import type { LayoutChange } from '../../testing/layout-faults.js';
import { crossing, layoutOf, slip } from '../../testing/layout-parts.js';
import { kmPerH, mm, ms } from '../../units.js';
import { validateLayout } from '../validate-layout.js';

describe('measures', () => {
  it.each<[string, LayoutChange, string, RegExp]>([
    ['scale ratio 0', (file) => void (file.scaleRatio = 0), 'scaleRatio', /ratio is 0/],
    [
      'a detected length of 0',
      (file) => void (elementOf(file, 'M', 'block').detection[0]!.length = mm(0)),
      'elements[3] M',
      /length of detection\[0\] is 0 mm/,
    ],
    [
      'a leg without length',
      (file) => void (elementOf(file, 'TW', 'turnout').lengths.straight = mm(-1)),
      'elements[2] TW',
      /straight leg is -1 mm/,
    ],
    [
      'negative fouling',
      (file) => void (elementOf(file, 'TW', 'turnout').fouling.straight = mm(-1)),
      'elements[2] TW',
      /fouling of its straight leg/,
    ],
    [
      'a speed limit of 0',
      (file) => void (elementOf(file, 'TW', 'turnout').divergingLimit = kmPerH(0)),
      'elements[2] TW',
      /diverging limit is 0 km\/h/,
    ],
    [
      'a block limit of 0',
      (file) => void (elementOf(file, 'M', 'block').speedLimit = kmPerH(0)),
      'elements[3] M',
      /speed limit is 0/,
    ],
    [
      'no throw time',
      (file) => void (elementOf(file, 'TW', 'turnout').drive.throwTime = ms(0)),
      'elements[2] TW',
      /throw time is 0 ms/,
    ],
    [
      'a drive address used twice',
      (file) => {
        elementOf(file, 'TE', 'turnout').drive.address = elementOf(
          file,
          'TW',
          'turnout',
        ).drive.address;
      },
      'elements[5] TE',
      /drive address \d+ is already used by elements\[2\] TW/,
    ],
    [
      'a drive address of 0',
      (file) => void (elementOf(file, 'TE', 'turnout').drive.address = 0),
      'elements[5] TE',
      /address is 0/,
    ],
    [
      'a bus whose silence is noticed at once',
      (file) => void (file.buses[0]!.silence.noticedWithin = ms(0)),
      'buses[0] bus1',
      /silence/,
    ],
    [
      'a negative hold-off',
      (file) => void (file.detectorTypes[0]!.holdOff = ms(-1)),
      'detectorTypes[0] reader',
      /hold-off/,
    ],
    [
      'a negative delay',
      (file) => void (file.detectorTypes[0]!.worstDelay.report = ms(-1)),
      'detectorTypes[0] reader',
      /"report"/,
    ],
    [
      'a reporting detector that reads no decoder',
      (file) => void (file.detectorTypes[0]!.readsAtOnce = 0),
      'detectorTypes[0] reader',
      /reports identity but reads 0/,
    ],
    [
      'a stop mark beyond the block',
      (file) => void (elementOf(file, 'M', 'block').stopMarks = { b: mm(1200) }),
      'elements[3] M stop mark b',
      /1200 mm from end b, but the block is 1200 mm/,
    ],
    [
      'a stop mark inside the fouling distance',
      (file) => void (elementOf(file, 'S', 'block').stopMarks = { a: mm(99) }),
      'elements[4] S stop mark a',
      /stands foul: the fouling point lies at 100 mm/,
    ],
  ])('%s', (_, change, place, text) => expectOnlyFault(faultsAfter(change), place, text));

  it('a block without length', () => {
    expectFault(
      faultsAfter((file) => void (elementOf(file, 'M', 'block').detection = [])),
      'elements[3] M',
      /no length/,
    );
  });

  it('of crossings and slips', () => {
    const faults = validateLayout(
      layoutOf(
        [
          crossing('X', { length: mm(0), fouling: mm(-2) }),
          slip('Y', 'single-slip', { slipLimit: kmPerH(0) }),
        ],
        ['X.a Y.a', 'X.b Y.b', 'X.c Y.c', 'X.d Y.d'],
      ),
    );
    expectFault(faults, 'elements[0] X', /its length is 0 mm/);
    expectFault(faults, 'elements[0] X', /its fouling is -2 mm/);
    expectFault(faults, 'elements[1] Y', /slip limit/);
  });
});
