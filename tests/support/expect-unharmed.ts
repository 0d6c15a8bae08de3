import type { SessionReport } from '@blockbell/rehearsal';
import { expect } from 'vitest';

/** How long one session may take on a busy machine, wall-clock ms. */
export const SESSION_TIMEOUT = 120_000;

/** The session came to its end, every service was run, and nothing happened that never may, excused or not. */
export function expectUnharmed(report: SessionReport): void {
  const { broken, excused } = report.violations;
  expect({ broken, excused, ...cameToItsEnd(report) }).toEqual({
    broken: [],
    excused: [],
    ended: true,
    notRun: [],
  });
}

export const cameToItsEnd = ({ ended, services }: SessionReport) => ({
  ended,
  notRun: services.notRun,
});
