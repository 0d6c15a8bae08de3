// `npm run screenshots`: takes the pictures of the board that the docs show, from a session of the demo.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { prepare, root } from '../../apps/cli/setup/prepare.mjs';
import { askLineUp, confirmAndStart, look, setPace, until } from './drive-session.mjs';
import { ensureChromium } from './find-chromium.mjs';
import { launchChromium } from './launch-chromium.mjs';
import { packPng } from './pack-png.mjs';
import { ServerProcess } from './server-process.mjs';

const FOLDER = join(root, 'docs', 'screenshots');
const DESKTOP = { width: 1280, height: 800 };
const TABLET = { width: 820, height: 1180 };
/** Larger pictures would weigh on every clone. */
const LARGEST = 250_000;
/** Fast-clock time of the running session in its pictures: enough has been run for the graph to show it. */
const SHOWN_AT = (6 * 60 + 50) * 60_000;
const FAST = 30;

prepare();
process.env.CHROMIUM_PATH = ensureChromium();
mkdirSync(FOLDER, { recursive: true });
const server = new ServerProcess();
const browser = await launchChromium();
try {
  await server.start();
  await askLineUp(server.address);
  await picture('line-up', { viewport: DESKTOP, colorScheme: 'light' });
  await confirmAndStart(server.address, FAST);
  await until('the clock shows the time of the pictures', isTimeForPictures);
  await setPace(server.address, 1);
  await picture('running-light', { viewport: DESKTOP, colorScheme: 'light' }, chooseWaiting);
  await picture('running-dark', { viewport: DESKTOP, colorScheme: 'dark' }, chooseWaiting);
  await picture('tablet', { viewport: TABLET, colorScheme: 'light' }, chooseWaiting);
} finally {
  await browser.close();
  await server.remove();
}

async function isTimeForPictures() {
  const { now, rows } = await look(server.address);
  const { fast, since, ratio } = rows.session.clock;
  return fast + (now - since) * ratio >= SHOWN_AT;
}

/**
 * Takes one picture of the board in a browser profile of its own.
 * @param {string} name
 * @param {import('playwright-core').BrowserContextOptions} view
 * @param {(page: import('playwright-core').Page) => Promise<void>} [prepare] what the viewer does before
 */
async function picture(name, view, prepare) {
  const context = await browser.newContext({ reducedMotion: 'reduce', ...view });
  const page = await context.newPage();
  await page.goto(server.address);
  await page.getByRole('button', { name: 'Use this name' }).click();
  await page
    .getByRole('group', { name: 'Trains on the track' })
    .getByRole('button')
    .first()
    .waitFor();
  await prepare?.(page);
  const path = join(FOLDER, `${name}.png`);
  const png = packPng(await page.screenshot());
  await context.close();
  writeFileSync(path, png);
  console.log(`${path}: ${Math.round(png.length / 1000)} kB`);
  if (png.length > LARGEST) throw new Error(`${path} is larger than ${LARGEST / 1000} kB`);
}

/** Has the board explain a train that waits for another. */
async function chooseWaiting(page) {
  const rows = page.getByRole('region', { name: 'Trains', exact: true }).getByRole('button');
  await rows.filter({ hasText: 'waits: ' }).first().click();
  await page.getByRole('region', { name: 'Chosen train' }).waitFor();
  await page.mouse.move(0, 0);
}
