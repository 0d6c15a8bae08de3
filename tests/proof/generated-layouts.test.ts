import { compileLayout, proveLayout, type LayoutFile, type ProofReport } from '@blockbell/railway';
import { generateRailway } from '@blockbell/simulation';
import { describe, expect, it } from 'vitest';
import { exampleRailway } from '../support/railways.js';

const TIMEOUT = 120_000;

function prove(file: LayoutFile): ProofReport {
  const proof = proveLayout(file, compileLayout(file));
  for (;;) {
    const { done, value } = proof.next();
    if (done === true) return value;
  }
}

const generated = (seed: number, sections: number): LayoutFile =>
  generateRailway({
    seed,
    sections,
    trains: 2,
    services: 4,
    singleLineShare: (seed % 5) / 4,
    balloonLoops: true,
  }).layout;

const faultsOf = ({ checks }: ProofReport): string[] => checks.flatMap(({ faults }) => faults);

describe('the static proof holds', () => {
  it.each(['demo', 'passing-loop'] as const)('on the example %s', (name) => {
    expect(faultsOf(prove(exampleRailway(name).layout))).toEqual([]);
  });

  it.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])('on a generated layout (seed %i)', (seed) => {
    const report = prove(generated(seed, 40 + 25 * seed));
    expect(faultsOf(report)).toEqual([]);
    expect(report.size.exclusions).toBeGreaterThan(report.size.routes);
  });

  it(
    'on a generated layout of 2,040 sections',
    () => {
      const report = prove(generated(1, 2040));
      expect(faultsOf(report)).toEqual([]);
      expect(report.size.sections).toBe(2040);
    },
    TIMEOUT,
  );
});
