import { describe, expect, it } from 'vitest';
import { elementOf, mutable } from '../../testing/edit.js';
import { expectFault, expectOnlyFault } from '../../testing/expect-fault.js';
import { faultsAfter } from '../../testing/layout-faults.js';
import { detection } from '../../testing/layout-parts.js';

describe('sections', () => {
  it('with the same address on the same bus', () => {
    expectOnlyFault(
      faultsAfter((file) => void (file.sections[3]!.address = file.sections[1]!.address)),
      'sections[3] s-S',
      /address 2 of bus bus1 is already used by sections\[1\] s-TW/,
    );
  });

  it('that see track which does not adjoin', () => {
    expectFault(
      faultsAfter((file) => void (elementOf(file, 'E', 'block').detection[0]!.section = 's-W')),
      'sections[0] s-W',
      /sees elements\[6\] E, which doesn't adjoin/,
    );
  });

  it('may reach over a join', () => {
    const faults = faultsAfter((file) => {
      elementOf(file, 'TW', 'turnout').section = 's-W';
      file.sections = file.sections.filter(({ id }) => id !== 's-TW');
    });
    expect(faults).toEqual([]);
  });

  it('that nothing uses', () => {
    expectOnlyFault(
      faultsAfter((file) => void (elementOf(file, 'TW', 'turnout').section = null)),
      'sections[1] s-TW',
      /no element uses/,
    );
  });

  it('that stop and begin again in a block', () => {
    expectFault(
      faultsAfter((file) => {
        elementOf(file, 'M', 'block').detection = mutable(
          detection(['s-M', 400], [null, 100], ['s-M', 700]),
        );
      }),
      'elements[3] M',
      /s-M stands twice/,
    );
  });
});
