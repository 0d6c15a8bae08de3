// Brings a fresh clone to the point where it can run: packages installed as the lock file says, everything
// built. It runs before any package is installed, so it needs nothing but Node and npm.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, readdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The root of the working tree. */
export const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..', '..');

const OLDEST_NODE = [20, 19];

/** Everything that must stand before a session or a test can run. Ends the process with a plain word if it can't. */
export function prepare() {
  refuseOldNode();
  if (!packagesMatchLock()) {
    say(
      'Installing packages as package-lock.json lists them (npm ci). The first time takes a minute or two.',
    );
    run('npm', ['ci', '--no-audit', '--no-fund']);
  }
  run(process.execPath, [join(root, 'node_modules', 'typescript', 'bin', 'tsc'), '-b']);
  if (boardIsStale()) {
    say('Building the board.');
    run('npm', ['run', 'build', '--workspace', '@blockbell/board']);
  }
}

function refuseOldNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  const [needMajor, needMinor] = OLDEST_NODE;
  if (major > needMajor || (major === needMajor && minor >= needMinor)) return;
  fail(`Blockbell needs Node ${OLDEST_NODE.join('.')} or newer; this is ${process.versions.node}.`);
}

/**
 * Whether node_modules holds what the lock file asks for. npm leaves the list of what it installed in
 * node_modules; packages for other platforms are optional and may be missing from it.
 */
function packagesMatchLock() {
  const wanted = packagesIn(join(root, 'package-lock.json'));
  const installed = packagesIn(join(root, 'node_modules', '.package-lock.json'));
  return Object.entries(wanted).every(([path, { version, optional }]) => {
    if (path === '') return true;
    const found = installed[path];
    return found ? found.version === version : optional === true;
  });
}

function packagesIn(lockFile) {
  return existsSync(lockFile) ? JSON.parse(readFileSync(lockFile, 'utf8')).packages : {};
}

/** Whether the built board is missing or older than a file it is made from. */
function boardIsStale() {
  const page = join(root, 'apps', 'board', 'dist', 'index.html');
  if (!existsSync(page)) return true;
  const builtAt = statSync(page).mtimeMs;
  const sources = ['apps/board', 'libs/contract/src', 'libs/railway/src', 'package-lock.json'];
  return sources.some((path) => newestChange(join(root, path)) > builtAt);
}

function newestChange(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return readdirSync(path)
    .filter((name) => name !== 'dist' && name !== 'node_modules' && !name.endsWith('.test.ts'))
    .reduce((newest, name) => Math.max(newest, newestChange(join(path, name))), 0);
}

function run(command, args) {
  const result = spawnSync(command, args, { cwd: root, stdio: 'inherit' });
  if (result.error) fail(`Could not run ${command}: ${result.error.message}`);
  if (result.status !== 0) fail(`Stopped: “${command} ${args.join(' ')}” failed, see above.`);
}

function say(text) {
  console.log(`blockbell: ${text}`);
}

function fail(text) {
  console.error(`blockbell: ${text}`);
  process.exit(1);
}
