import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { LongestFirst } from './support/longest-first.mjs';

/** Workspace packages are read from their sources, so that no build stands between a change and its test. */
const sources = {
  resolve: { conditions: ['source'] },
  ssr: { resolve: { conditions: ['source'] } },
};

/** `npm test` has built them and reads what it built, as the server does: whole sessions run a fifth faster. */
const isBuilt = process.env['BLOCKBELL_PACKAGES'] === 'built';
const shared = isBuilt ? {} : sources;
const server = isBuilt ? { deps: { external: [/\/(libs|apps)\/[^/]+\/dist\//] } } : {};

/** As many as there are processors where the project's own checks run: a browser keeps one busy. */
const WORKERS = 2;

/** Tests that put something of their own in the place of a module: each of their files needs modules of its own. */
const MOCKING = [
  'libs/railway/src/proof/broken-rules.test.ts',
  'apps/server/src/session/lost-follower.test.ts',
];

export default defineConfig({
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    // All projects stand in one queue for all workers, so that the processors have work to the end.
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        ...shared,
        test: {
          name: 'unit',
          server,
          include: ['libs/*/src/**/*.test.ts', 'apps/*/src/**/*.test.ts'],
          exclude: MOCKING,
          testTimeout: 30_000,
          maxWorkers: WORKERS,
          // What is imported is the same for all files: loading it once for each took more time than the tests.
          isolate: false,
          restoreMocks: true,
        },
      },
      {
        ...sources,
        test: { name: 'mocking', include: MOCKING, testTimeout: 30_000, maxWorkers: WORKERS },
      },
      {
        ...shared,
        test: {
          name: 'system',
          server,
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          maxWorkers: WORKERS,
          isolate: false,
        },
      },
      {
        ...shared,
        test: {
          name: 'browser',
          server,
          include: ['tests/browser/**/*.test.ts'],
          testTimeout: 240_000,
          hookTimeout: 240_000,
          expect: { poll: { timeout: 60_000, interval: 100 } },
          maxWorkers: WORKERS,
          isolate: false,
        },
      },
    ],
  },
});
