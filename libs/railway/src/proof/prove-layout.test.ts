import { describe, expect, it } from 'vitest';
import { compileLayout } from '../layout/compile-layout.js';
import type { LayoutFile } from '../layout/layout-file.js';
import type { Layout, Route } from '../layout/layout.js';
import {
  balloonLoop,
  block,
  bufferStop,
  crossing,
  detection,
  layoutOf,
  passingLoop,
  slip,
  threeWay,
  turnout,
} from '../testing/layout-parts.js';
import { sharedPlatform } from '../testing/shared-platform.js';
import { mm } from '../units.js';
import { proveLayout } from './prove-layout.js';
import type { CheckName, ProofReport } from './report.js';

function prove(file: LayoutFile, layout = compileLayout(file)): ProofReport {
  const proof = proveLayout(file, layout);
  for (;;) {
    const { done, value } = proof.next();
    if (done === true) return value;
  }
}

const faultsOf = (report: ProofReport): string[] => report.checks.flatMap(({ faults }) => faults);
const check = (report: ProofReport, name: CheckName) =>
  report.checks.find((each) => each.name === name)!;

/** The passing loop with overlaps beyond both ends of both tracks. */
const overlapping = (): LayoutFile => {
  const loop = passingLoop();
  const elements = loop.elements.map((it) =>
    it.id === 'M' || it.id === 'S'
      ? block(it.id, 1200, { overlap: { a: mm(200), b: mm(200) } })
      : it,
  );
  return { ...loop, elements };
};

/** The layout with one route changed. */
function withRoute(layout: Layout, id: string, change: (route: Route) => Route): Layout {
  expect(layout.routes.some((route) => route.id === id)).toBe(true);
  return { ...layout, routes: layout.routes.map((it) => (it.id === id ? change(it) : it)) };
}

/** Two lines that cross on the level, and two with a slip between them. */
const crossed = (kind: 'crossing' | 'double-slip'): LayoutFile =>
  layoutOf(
    [
      ...['A', 'B', 'C', 'D'].flatMap((id) => [bufferStop(`X${id}`), block(id)]),
      kind === 'crossing' ? crossing('K') : slip('K', 'double-slip'),
    ],
    [
      ...['A', 'B', 'C', 'D'].map((id) => `X${id}.a ${id}.a`),
      'A.b K.a',
      'B.b K.b',
      'C.b K.c',
      'D.b K.d',
    ],
  );

/** A crossover between two lines, and a three-way turnout at the end of one. */
const station = (): LayoutFile =>
  layoutOf(
    [
      ...['A1', 'A2', 'B2', 'C1', 'C2', 'C3'].flatMap((id) => [bufferStop(`X${id}`), block(id)]),
      turnout('T1'),
      turnout('T2'),
      threeWay('T3'),
    ],
    [
      ...['A1', 'A2', 'B2', 'C1', 'C2', 'C3'].map((id) => `X${id}.a ${id}.a`),
      'A1.b T1.stem',
      'T1.straight T3.stem',
      'T3.left C1.b',
      'T3.straight C2.b',
      'T3.right C3.b',
      'A2.b T2.straight',
      'T2.stem B2.b',
      'T1.diverging T2.diverging',
    ],
  );

describe('the static proof', () => {
  it.each([
    ['a passing loop', passingLoop()],
    ['a passing loop with overlaps', overlapping()],
    ['a reversing loop', balloonLoop()],
    ['a crossing', crossed('crossing')],
    ['a double slip', crossed('double-slip')],
    ['a station with a crossover and a three-way turnout', station()],
  ])('holds on %s', (_, file) => {
    const report = prove(file);
    expect(faultsOf(report)).toEqual([]);
    expect(report.proved).toBe(true);
    for (const name of ['routes', 'exclusion', 'flank', 'leaving'] as const) {
      expect(check(report, name).looked).toBeGreaterThan(0);
    }
  });

  it('counts what it looked at', () => {
    const report = prove(passingLoop());
    // Of the 28 pairs of eight routes, the eight at opposite ends of different tracks may be held together.
    expect(report.size).toEqual({ sections: 6, blocks: 4, drives: 2, routes: 8, exclusions: 20 });
    expect(check(report, 'leaving').notes).toEqual([
      'W towards a: only a train that can reverse leaves it.',
      'E towards a: only a train that can reverse leaves it.',
    ]);
  });

  it('says where flank protection cannot be had', () => {
    const open = layoutOf(
      [bufferStop('X'), block('A'), turnout('T'), block('B'), bufferStop('Y')],
      ['X.a A.a', 'A.b T.stem', 'T.straight B.a', 'B.b Y.a'],
    );
    const { notes, faults } = check(prove(open), 'flank');
    expect(faults).toEqual([]);
    expect(notes).toEqual([
      'T beyond diverging has no protection: nothing is joined at T.diverging (2 routes).',
    ]);
  });

  it('says which protection a route gives up for its own overlap', () => {
    const back = layoutOf(
      [
        ...['ZA', 'ZD'].map(bufferStop),
        ...['A', 'D'].map((id) => block(id)),
        block('C', 1000, { overlap: { b: mm(200) } }),
        ...['T', 'X'].map((id) => turnout(id)),
      ],
      [
        'ZA.a A.a',
        'A.b T.stem',
        'T.straight C.a',
        'C.b X.stem',
        'X.straight T.diverging',
        'X.diverging D.a',
        'D.b ZD.a',
      ],
    );
    expect(check(prove(back), 'flank').notes).toContain(
      'X does not protect T: it lies straight for the overlap (1 routes).',
    );
  });
});

describe('a broken layout is caught', () => {
  it('where trains can come in and never get out', () => {
    const trap = passingLoop();
    const elements = trap.elements.map((it) =>
      it.id === 'E' ? block('E', 1500, { directions: 'b-to-a' }) : it,
    );
    const report = prove({ ...trap, elements });
    expect(check(report, 'leaving').faults).toEqual([
      'A train that comes into E towards a can never leave it.',
      'No route leads out of E.',
    ]);
    expect(report.proved).toBe(false);
  });

  it('where a turnout is never used one way', () => {
    const trap = passingLoop();
    const joins = trap.joins.filter((pair) => !pair.includes('S.a') && !pair.includes('S.b'));
    const elements = trap.elements.filter(({ id }) => id !== 'S');
    const { faults } = check(prove({ ...trap, elements, joins, stations: [] }), 'positions');
    expect(faults).toEqual(['No route uses TW diverging.', 'No route uses TE diverging.']);
  });
});

describe('a broken table is caught', () => {
  const file = station();
  const layout = compileLayout(file);

  it('that lists a conflict too few', () => {
    const broken = withRoute(layout, 'A2>B2', (route) => ({ ...route, conflicts: [] }));
    expect(check(prove(file, broken), 'exclusion').faults.length).toBeGreaterThan(0);
  });

  it('that lists a conflict too many', () => {
    const spare = layout.routes.find(({ id }) => id === 'A1>C1')!.index;
    const broken = withRoute(layout, 'A2>B2', (route) => ({
      ...route,
      conflicts: [...route.conflicts, spare],
    }));
    expect(check(prove(file, broken), 'exclusion').faults).toEqual([
      'A2>B2 and A1>C1 share nothing, but a conflict is listed.',
    ]);
  });

  it('that lost a route, and one whose route leads nowhere', () => {
    const lost = { ...layout, routes: layout.routes.slice(0, -1) };
    expect(check(prove(file, lost), 'routes').faults[0]).toMatch(/^The way from .* is no route\.$/);
    const strange = withRoute(layout, 'A2>B2', (route) => ({
      ...route,
      steps: route.steps.slice(1),
    }));
    expect(check(prove(file, strange), 'routes').faults).toContain(
      'Route A2>B2 leads where no track leads.',
    );
  });

  it('that sets a turnout the wrong way', () => {
    const broken = withRoute(layout, 'A2>B2', (route) => ({
      ...route,
      steps: route.steps.map((step) =>
        step.leg.position === 'straight'
          ? { ...step, leg: { ...step.leg, position: 'diverging' } }
          : step,
      ),
    }));
    expect(check(prove(file, broken), 'routes').faults).toEqual([
      'Route A2>B2 sets T2 diverging; its way needs straight.',
    ]);
  });

  it('that forgets a detection section', () => {
    const shared = {
      ...file,
      elements: file.elements.map((it) =>
        it.id === 'C1' ? block('C1', 1000, { detection: detection(['s-T3', 1000]) }) : it,
      ),
    };
    const compiled = compileLayout(shared);
    const broken = withRoute(compiled, 'A1>C1', (route) => ({
      ...route,
      steps: route.steps.map((step) => ({
        ...step,
        pieces: step.pieces.map((piece) => ({ ...piece, section: -1 as const })),
      })),
    }));
    expect(check(prove(shared, broken), 'routes').faults).toContain(
      'Route A1>C1 does not hold section s-T3.',
    );
  });

  it('that forgets the polarity of a reversing loop', () => {
    const loop = balloonLoop();
    const compiled = compileLayout(loop);
    const [first] = compiled.routes.filter(({ steps }) => steps.some(({ gaps }) => gaps.length));
    const broken = withRoute(compiled, first!.id, (route) => ({
      ...route,
      steps: route.steps.map((step) => ({ ...step, gaps: [] })),
    }));
    expect(check(prove(loop, broken), 'routes').faults.join(' ')).toContain('R not at all');
  });

  it('that lost the flank of a route', () => {
    const broken = withRoute(layout, 'A2>B2', (route) => ({ ...route, flank: [] }));
    expect(check(prove(file, broken), 'flank').faults).toEqual([
      'A2>B2: a stray vehicle from A1 comes to T2.diverging; nothing protects and nothing says why.',
    ]);
  });

  it('that turns a protecting turnout towards the route', () => {
    const broken = withRoute(layout, 'A2>B2', (route) => ({
      ...route,
      flank: route.flank.map((flank) =>
        flank.by.kind === 'turnout'
          ? { ...flank, by: { ...flank.by, position: 'diverging' } }
          : flank,
      ),
    }));
    expect(check(prove(file, broken), 'flank').faults).not.toEqual([]);
  });
});

describe('a track into which a second train may be called on', () => {
  it('takes it by call-on alone, where the layout says so and not elsewhere', () => {
    for (const callOn of [true, false]) {
      const report = prove(sharedPlatform(callOn));
      expect(faultsOf(report)).toEqual([]);
      expect(check(report, 'sharing').looked).toBe(2);
    }
  });

  it('is missed where the tables don’t know of it, or know it to be open to all', () => {
    const layout = compileLayout(sharedPlatform());
    const unknown = { ...layout, dividedTrackOf: layout.dividedTrackOf.map(() => -1) };
    expect(check(prove(sharedPlatform(), unknown), 'sharing').faults).toContain(
      'W>PA is granted into Station Middle 1 while a train stands in PB as if it were empty.',
    );
    expect(check(prove(sharedPlatform(false), layout), 'sharing').faults).toContain(
      'W>PA is granted into Station Middle 1 while a train stands in PB, which the layout does not allow.',
    );
    const closed = compileLayout(sharedPlatform(false));
    expect(check(prove(sharedPlatform(), closed), 'sharing').faults).toContain(
      'W>PA is never granted into Station Middle 1 while a train stands in PB, though the layout allows it.',
    );
  });
});
