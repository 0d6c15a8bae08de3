import { describe, it } from 'vitest';
import { elementOf } from '../../testing/edit.js';
import { expectFault } from '../../testing/expect-fault.js';
import { faultsAfter } from '../../testing/layout-faults.js';

describe('traps', () => {
  it('finds one-way blocks that lead nowhere', () => {
    expectFault(
      faultsAfter((file) => void (elementOf(file, 'E', 'block').directions = 'b-to-a')),
      'elements[6] E',
      /only run b to a here, and no route leads on/,
    );
  });

  it('finds two-way blocks that no route leaves', () => {
    expectFault(
      faultsAfter((file) => {
        elementOf(file, 'M', 'block').directions = 'a-to-b';
        elementOf(file, 'S', 'block').directions = 'a-to-b';
      }),
      'elements[6] E',
      /can enter this block but no route leaves/,
    );
  });
});
