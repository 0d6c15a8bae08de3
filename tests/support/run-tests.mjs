// `npm test`: prepares what is missing, finds a Chromium, runs every test. Arguments go on to vitest.
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { prepare, root } from '../../apps/cli/setup/prepare.mjs';
import { ensureChromium } from './find-chromium.mjs';

prepare();
const chromium = ensureChromium();
console.log(`blockbell: browser tests use ${chromium}`);
const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs');
const env = { ...process.env, CHROMIUM_PATH: chromium, BLOCKBELL_PACKAGES: 'built' };
const { status } = spawnSync(
  process.execPath,
  [vitest, 'run', '--config', join(root, 'tests', 'vitest.config.ts'), ...process.argv.slice(2)],
  { cwd: root, stdio: 'inherit', env },
);
process.exit(status ?? 1);
