// Finds the browser that the browser tests drive. Needs nothing but Node, like everything that runs before
// the packages are installed.
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome'];

/**
 * Path of a Chromium on this machine: CHROMIUM_PATH if it is set, else the first on PATH, else null.
 * Throws when CHROMIUM_PATH names no program.
 */
export function findChromium(env = process.env) {
  if (env.CHROMIUM_PATH) {
    if (isProgram(env.CHROMIUM_PATH)) return env.CHROMIUM_PATH;
    throw new Error(`CHROMIUM_PATH is ${env.CHROMIUM_PATH}, which is no program.`);
  }
  const folders = (env.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  const candidates = NAMES.flatMap((name) => folders.map((folder) => join(folder, name)));
  return candidates.find(isProgram) ?? null;
}

/** As `findChromium`, installing one where that is possible; ends the process with advice where it isn't. */
export function ensureChromium() {
  const found = findChromium();
  if (found) return found;
  if (process.getuid?.() === 0 && existsSync('/etc/debian_version')) {
    console.log(
      'blockbell: no Chromium found; installing the one of Debian (apt-get install chromium).',
    );
    apt(['update', '-q']);
    apt(['install', '-y', '-q', '--no-install-recommends', 'chromium']);
    const installed = findChromium();
    if (installed) return installed;
  }
  console.error(
    [
      'blockbell: the browser tests need a Chromium and none was found.',
      '  Debian, Ubuntu:  sudo apt-get install chromium',
      '  Fedora:          sudo dnf install chromium',
      '  elsewhere:       set CHROMIUM_PATH to the program of a Chromium or Chrome',
      'The tests without a browser run on their own: npm run vitest -- --project unit',
    ].join('\n'),
  );
  process.exit(1);
}

function apt(args) {
  spawnSync('apt-get', args, {
    stdio: 'inherit',
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  });
}

function isProgram(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}
