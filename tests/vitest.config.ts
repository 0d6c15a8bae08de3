import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

const shared = {
  // Workspace packages are read from their sources, so that no build stands between a change and its test.
  resolve: { conditions: ['source'] },
  ssr: { resolve: { conditions: ['source'] } },
};

export default defineConfig({
  ...shared,
  root: fileURLToPath(new URL('..', import.meta.url)),
  test: {
    projects: [
      {
        ...shared,
        test: {
          name: 'unit',
          include: ['libs/*/src/**/*.test.ts', 'apps/*/src/**/*.test.ts'],
          testTimeout: 30_000,
          maxWorkers: 2,
        },
      },
      {
        ...shared,
        test: {
          name: 'system',
          include: ['tests/**/*.test.ts'],
          exclude: ['tests/browser/**'],
          testTimeout: 120_000,
          hookTimeout: 120_000,
          maxWorkers: 2,
        },
      },
      {
        ...shared,
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          testTimeout: 240_000,
          hookTimeout: 240_000,
          expect: { poll: { timeout: 60_000, interval: 100 } },
          // A browser and a server at a time are enough for two cores; after everything else, alone.
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
