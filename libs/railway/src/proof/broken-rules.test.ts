import type * as FlankProtection from '../interlocking/flank-protection.js';
import type * as RouteCheck from '../interlocking/route-check.js';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { runsOver } from '../testing/broken-rules.js';
import { block, crossing, layoutOf, passingLoop } from '../testing/layout-parts.js';

/** Two lines that cross on the level. */
const levelCrossing = () =>
  layoutOf(
    [block('A'), block('B'), block('C'), block('D'), crossing('K')],
    ['A.b K.a', 'B.b K.b', 'C.b K.c', 'D.b K.d'],
  );

afterEach(() => {
  vi.resetModules();
  vi.doUnmock('../interlocking/route-check.js');
  vi.doUnmock('../interlocking/flank-protection.js');
});

/** Faults by check, with the rules as they are mocked now. */
async function faultsOn(file = passingLoop()): Promise<Record<string, readonly string[]>> {
  const { compileLayout } = await import('../layout/compile-layout.js');
  const { proveLayout } = await import('./prove-layout.js');
  const proof = proveLayout(file, compileLayout(file));
  for (;;) {
    const { done, value } = proof.next();
    if (done !== true) continue;
    return Object.fromEntries(value.checks.map(({ name, faults }) => [name, faults]));
  }
}

describe('a broken rule is caught', () => {
  it('that grants a route whatever is in its way', async () => {
    vi.doMock('../interlocking/route-check.js', () => ({ obstacleOn: () => null }));
    const { exclusion } = await faultsOn();
    expect(exclusion).toContain('W>M is granted though a train stands in M.');
    expect(exclusion).toContain('E>M is granted while W>M is held, though both are at M.');
  });

  it('that looks at the block at the end of a route only', async () => {
    vi.doMock('../interlocking/route-check.js', async (original) => {
      const rules = await original<typeof RouteCheck>();
      return {
        obstacleOn: (...[world, state, train, route]: Parameters<typeof rules.obstacleOn>) =>
          rules.obstacleOn(world, state, train, { ...route, steps: route.steps.slice(-1) }),
      };
    });
    const { exclusion } = await faultsOn(levelCrossing());
    expect(exclusion).toContain('B>D is granted while A>C is held, though both are at K.');
  });

  it('that turns a protecting turnout though a route is held over it', async () => {
    vi.doMock('../interlocking/flank-protection.js', async (original) => ({
      ...(await original<typeof FlankProtection>()),
      setFlank: runsOver,
    }));
    const { crossover } = await import('../testing/crossover.js');
    const { drives } = await faultsOn(crossover());
    expect(drives).toContain('Setting A1>B1 commands T2 under the held route A2>B2.');
  });
});
