import { describe, it } from 'vitest';
import { expectFault } from '../../testing/expect-fault.js';
import { faultsAfter } from '../../testing/layout-faults.js';
import { block, layoutOf } from '../../testing/layout-parts.js';
import { validateLayout } from '../validate-layout.js';

describe('joins', () => {
  it('to an unknown element', () => {
    expectFault(
      faultsAfter((file) => void (file.joins[0] = ['WX.a', 'W.a'])),
      'joins[0] WX.a–W.a',
      /no element WX/,
    );
  });

  it('to an unknown port', () => {
    expectFault(
      faultsAfter((file) => void (file.joins[2] = ['TW.left', 'M.a'])),
      'joins[2]',
      /TW is a turnout and has no port left, only stem, straight, diverging/,
    );
  });

  it('without a port', () => {
    expectFault(
      faultsAfter((file) => void (file.joins[0] = ['WB', 'W.a'])),
      'joins[0]',
      /names no port/,
    );
  });

  it('of a port twice', () => {
    const faults = faultsAfter((file) => void file.joins.push(['M.a', 'S.b']));
    expectFault(faults, 'joins[8] M.a–S.b', /M\.a is already joined by joins\[2\]/);
    expectFault(faults, 'joins[8] M.a–S.b', /S\.b is already joined by joins\[5\]/);
  });

  it('missing at a port', () => {
    const faults = faultsAfter((file) => void file.joins.splice(3, 1));
    expectFault(faults, 'elements[2] TW port diverging', /nothing is joined/);
    expectFault(faults, 'elements[4] S port a', /nothing is joined/);
  });

  it('of an element to itself', () => {
    expectFault(
      validateLayout(layoutOf([block('A')], ['A.a A.b'])),
      'joins[0]',
      /joined to itself/,
    );
  });
});
