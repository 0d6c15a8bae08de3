import { describe, it } from 'vitest';
import { expectOnlyFault } from '../../testing/expect-fault.js';
import { faultsAfter } from '../../testing/layout-faults.js';
import type { LayoutChange } from '../../testing/layout-faults.js';

describe('drawing', () => {
  const drawn =
    (draw: unknown, id = 'W'): LayoutChange =>
    (file) => {
      const element = file.elements.find((it) => it.id === id);
      Object.assign(element ?? {}, { draw });
    };

  it.each<[string, LayoutChange, string, RegExp]>([
    [
      'without a port',
      drawn({ level: 'ground', ports: { a: [0, 0] } }),
      'elements[1] W draw',
      /port b has no point/,
    ],
    [
      'with a port too many',
      drawn({ level: 'ground', ports: { a: [0, 0], b: [1, 0], c: [2, 0] } }),
      'elements[1] W draw',
      /block has no port c/,
    ],
    [
      'with bends where there are none',
      drawn({ level: 'ground', ports: { a: [0, 0] }, via: [[1, 1]] }, 'WB'),
      'elements[0] WB draw',
      /buffer-stop has no bends/,
    ],
  ])('%s', (_, change, place, text) => expectOnlyFault(faultsAfter(change), place, text));
});
