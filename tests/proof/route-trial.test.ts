import { blockOf, compileLayout, type LayoutFile } from '@blockbell/railway';
import { runTrial, type RouteTrial, type TrialReport, type TrialSetup } from '@blockbell/rehearsal';
import { generateRailway, type Fault } from '@blockbell/simulation';
import { describe, expect, it } from 'vitest';
import { exampleRailway } from '../support/railways.js';

/** The report of a trial, broken off after `atMost` routes. */
function tried(setup: TrialSetup, atMost = Infinity): TrialReport {
  const trial = runTrial(setup);
  let next = trial.next();
  while (next.done !== true) next = trial.next(next.value.done >= atMost);
  return next.value;
}

const demo = exampleRailway('demo');
const loop = exampleRailway('passing-loop');
const indexOf = (layout: LayoutFile, id: string): number =>
  compileLayout(layout).elementByName.get(id)!;
const faultOf = (report: TrialReport, route: string): string =>
  report.trials.find((trial) => trial.route === route)?.fault?.text ?? 'none';

describe('a route trial of sound files', () => {
  it.each(['demo', 'passing-loop'] as const)('passes every route of the %s', (name) => {
    const { layout, stock } = exampleRailway(name);
    const report = tried({ layout, stock, seed: 1 });
    const { routes } = compileLayout(layout);
    expect(report.trials.filter(({ outcome }) => outcome !== 'passed')).toEqual([]);
    expect(report.trials.map(({ route }) => route)).toEqual(routes.map(({ id }) => id));
    expect(report).toMatchObject({ passed: routes.length, failed: 0, notRun: 0, whole: true });
    const { drives, sections, signals } = report.coverage;
    expect([drives.unused, sections.unused, signals.unused]).toEqual([[], [], []]);
  });

  it.each([1, 2, 3])(
    'passes every route of a generated railway that a train fits into (seed %i)',
    (seed) => {
      const { layout, stock } = generateRailway({
        seed,
        sections: 60,
        trains: 3,
        services: 3,
        singleLineShare: 0.6,
        balloonLoops: true,
      });
      const report = tried({ layout, stock, seed });
      expect(report.trials.filter(({ outcome }) => outcome === 'failed')).toEqual([]);
      expect(report.passed).toBeGreaterThan(20);
    },
  );

  it('runs each of several ways into one block over its own turnouts', () => {
    const routes = compileLayout(demo.layout).routes.filter(({ id }) => id.includes('/'));
    expect(routes.length).toBeGreaterThan(1);
    const report = tried({ ...demo, seed: 1, routes: routes.map(({ id }) => id) });
    for (const [at, { steps }] of routes.entries()) {
      const set = steps.flatMap(({ element, leg }) =>
        leg.position === null ? [] : [`${element} ${leg.position}`],
      );
      const { drives } = report.trials[at]!;
      expect(drives.map(({ id, position }) => `${indexOf(demo.layout, id)} ${position}`)).toEqual(
        set,
      );
    }
  });

  it('gives the same report for the same seed', () => {
    const setup = { layout: loop.layout, stock: loop.stock, seed: 7 };
    expect(tried(setup)).toEqual(tried(setup));
  });
});

describe('a route trial finds', () => {
  const withFault = (fault: Fault): TrialReport =>
    tried({ layout: loop.layout, stock: loop.stock, seed: 1, faults: [fault] });
  const needs = (element: string, position: string) => (trial: RouteTrial) =>
    compileLayout(loop.layout)
      .routes.find(({ id }) => id === trial.route)!
      .steps.some(
        (step) => step.element === indexOf(loop.layout, element) && step.leg.position === position,
      );

  it('a turnout that never moves, on just those routes that need it to', () => {
    const report = withFault({
      kind: 'stuck-drive',
      at: 0,
      duration: null,
      element: indexOf(loop.layout, 'T1'),
    });
    const failed = report.trials.filter(({ outcome }) => outcome === 'failed');
    expect(failed.map(({ route }) => route)).toEqual(
      report.trials.filter(needs('T1', 'diverging')).map(({ route }) => route),
    );
    for (const { fault } of failed) expect(fault!.text).toContain('T1');
    expect(report.coverage.drives.unused).toEqual(['T1 diverging']);
  });

  it('a detector that never says occupied', () => {
    const layout = compileLayout(loop.layout);
    const block = layout.elements.find(({ id }) => id === 'P1')!;
    const [section] = block.sections;
    const report = withFault({ kind: 'dropout', at: 0, duration: null, section: section! });
    const into = report.trials.filter(
      ({ route }) => blockOf(layout.routes.find(({ id }) => id === route)!.to) === block.index,
    );
    expect(into.length).toBeGreaterThan(0);
    for (const { outcome, fault } of into) {
      expect(outcome).toBe('failed');
      expect(fault!.text).toContain(layout.sections[section!]!.id);
    }
  });

  it('a train that can stand nowhere on its way, and says how long one may be', () => {
    const train = demo.stock.trains.find(({ id }) => id === 'T101')!;
    const report = tried({ ...demo, seed: 1, train: train.id, routes: ['R6>E3'] });
    expect(report.notRun).toBe(1);
    expect(faultOf(report, 'R6>E3')).toMatch(
      /^101, \d+ mm long, has no room in \w+.*: a train may be \d+ mm long there\.$/,
    );
  });

  it('nothing of routes that were not come to when it was broken off', () => {
    const report = tried({ ...loop, seed: 1 }, 3);
    expect(report).toMatchObject({ passed: 3, whole: false });
    const rest = report.trials.filter(({ outcome }) => outcome === 'not-run');
    expect(rest).toHaveLength(report.trials.length - 3);
    expect(rest[0]!.fault!.text).toBe('The trial was broken off before.');
  });
});
