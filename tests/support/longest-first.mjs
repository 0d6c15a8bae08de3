// In which order test files are begun: vitest knows how long each takes only once it has run them.
import { BaseSequencer } from 'vitest/node';

/** Files that take half a minute or more: begun last, one of them would run on beside an idle processor. */
const LONGEST = [
  'libs/railway/src/dispatching/oneway8.test.ts',
  'libs/scheduling/src/cross-check.test.ts',
  'tests/browser/run-controls.test.ts',
  'tests/browser/by-hand.test.ts',
  'tests/browser/recovery.test.ts',
  'tests/browser/people.test.ts',
  'tests/browser/running.test.ts',
  'tests/browser/after-the-end.test.ts',
  'tests/browser/power.test.ts',
  'tests/browser/connection.test.ts',
  'tests/server/restart.test.ts',
];

const isLong = ({ moduleId }) => LONGEST.some((file) => moduleId.endsWith(file));

/** One project after the other, as vitest orders them, the longest files of each first. */
export class LongestFirst extends BaseSequencer {
  async sort(files) {
    const sorted = await super.sort(files);
    const projects = [...new Set(sorted.map(({ project }) => project))];
    return projects.flatMap((project) => {
      const own = sorted.filter((file) => file.project === project);
      return [...own.filter(isLong), ...own.filter((file) => !isLong(file))];
    });
  }
}
