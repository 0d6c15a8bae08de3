import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: { conditions: ['source'] },
  ssr: { resolve: { conditions: ['source'] } },
  test: { include: ['libs/**/src/**/*.test.ts', 'apps/*/src/**/*.test.ts', 'tests/**/*.test.ts'] },
});
