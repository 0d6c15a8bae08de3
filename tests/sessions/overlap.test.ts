import { compileLayout, headingOf, mm, validateLayout, type LayoutFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { Chance } from '../support/chance.js';
import { expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway, smallRailway, type Railway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';

const OVERLAP = mm(200);

/** Overlaps of every station track beside which another one lies, wherever track leads on, as a builder might ask for. */
function withOverlaps(railway: Railway): Railway {
  const { layout } = railway;
  const { elementByName, routesFrom } = compileLayout(layout);
  const beyond = (id: string, end: 'a' | 'b'): { [end: string]: typeof OVERLAP } =>
    routesFrom[headingOf(elementByName.get(id)!, end)]!.length > 0 ? { [end]: OVERLAP } : {};
  const tracks = new Set(
    layout.stations.flatMap(({ kind, tracks }) =>
      kind === 'station' && tracks.length > 1 ? tracks.flatMap(({ blocks }) => blocks) : [],
    ),
  );
  const elements = layout.elements.map((element): LayoutFile['elements'][number] =>
    element.kind === 'block' && tracks.has(element.id)
      ? { ...element, overlap: { ...beyond(element.id, 'a'), ...beyond(element.id, 'b') } }
      : element,
  );
  const asking = { ...layout, elements };
  expect(validateLayout(asking)).toEqual([]);
  return { ...railway, layout: asking };
}

const seeds = (from: number, count: number): number[] =>
  Array.from({ length: count }, (_, index) => from + index);

describe('with overlaps every service still runs, and no train comes into an overlap that is locked', () => {
  let locked = 0;

  it.each([
    ...seeds(1, 12).map((seed) => ['passing loop', seed] as const),
    ...seeds(31, 10).map((seed) => ['generated', seed] as const),
  ])(
    '%s, seed %i',
    (where, seed) => {
      const plain =
        where === 'generated' ? smallRailway(new Chance(seed)) : exampleRailway('passing-loop');
      const strays: string[] = [];
      const report = rehearse(withOverlaps(plain), {
        seed,
        watch: ({ state, simulated, now }, _, { changes }) => {
          for (const element of changes.elements) {
            const { overlapFor } = state.elements[element]!;
            if (overlapFor < 0) continue;
            locked++;
            for (const { train, stretches } of simulated.truth.trains()) {
              const on = stretches.some((s) => s.element === element && s.to - s.from > 1);
              if (on && train !== overlapFor) strays.push(`train ${train} at ${now} ms`);
            }
          }
        },
      });
      expectUnharmed(report);
      expect(strays).toEqual([]);
    },
    SESSION_TIMEOUT,
  );

  it('and many were locked', () => {
    expect(locked).toBeGreaterThan(100);
  });
});
