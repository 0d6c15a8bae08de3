import { describe, expect, it } from 'vitest';
import { BENCHMARKS } from '../bench/all-benchmarks.js';
import { BENCHMARK_NAMES } from '../bench/benchmark-names.js';
import type { Report } from '../bench/report.js';
import { runRecorded } from '../testing/run-recorded.js';
import { gate } from './bench.js';

const LONG = 120_000;

describe('blockbell bench', () => {
  it(
    'refuses a name it does not know, with those it knows',
    async () => {
      const { exit, err } = await runRecorded('bench', 'patience');
      expect(exit).toBe(2);
      expect(err).toContain(
        `there is no benchmark patience; there are ${BENCHMARK_NAMES.join(', ')}`,
      );
    },
    LONG,
  );

  it(
    'prints what it measured as JSON',
    async () => {
      const { exit, out } = await runRecorded('bench', 'journal', '--quick', '--json');
      expect(exit).toBe(0);
      const { machine, reports } = JSON.parse(out) as { machine: string; reports: Report[] };
      expect(machine).toContain(`Node ${process.versions.node}`);
      expect(reports.map(({ name }) => name)).toEqual(['journal']);
      const [[label, inputs, batches, text, disk]] = reports[0]!.rows as [string[]];
      expect(label).toBe('demo, 16 trains');
      for (const figure of [inputs, batches, text, disk]) {
        expect(Number(figure!.replaceAll(',', ''))).toBeGreaterThan(0);
      }
      expect(Number(disk)).toBeGreaterThan(Number(text));
    },
    LONG,
  );

  it(
    'prints the document’s tables, and exits with 1 exactly when a target is missed',
    async () => {
      const { exit, out } = await runRecorded('bench', 'rehearsal', '--quick', '--markdown');
      expect(out).toMatch(/^Measured on \d{4}-\d\d-\d\d: Node /);
      expect(out).toContain('| checked | ');
      expect(out).toMatch(/median speed with invariants checked: [\d,.]+ × physical time/);
      expect(exit).toBe(out.includes('**missed**') ? 1 : 0);
    },
    LONG,
  );
});

it('runs the benchmarks in the order in which its help names them', () => {
  expect(BENCHMARKS.map(({ name }) => name)).toEqual(BENCHMARK_NAMES);
});

describe('the gate', () => {
  const report = (value: number): Report => ({
    name: 'sample',
    title: 'A sample',
    about: '',
    columns: [],
    rows: [],
    figures: [{ what: 'delay', value, unit: 'ms', target: { most: 20 } }],
  });

  it('fails when one target of any report is missed', () => {
    expect(gate([report(20), report(3)])).toBe(0);
    expect(gate([report(3), report(20.1)])).toBe(1);
  });
});
