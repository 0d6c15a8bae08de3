// `npm run screenshots`: takes the pictures of the board that the docs show, from a session of the demo.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { prepare, root } from '../../apps/cli/setup/prepare.mjs';
import {
  askLineUp,
  command,
  confirmAndStart,
  look,
  runSession,
  setPace,
  tell,
  until,
} from './drive-session.mjs';
import { addPeople, PASSPHRASE } from './add-people.mjs';
import { ensureChromium } from './find-chromium.mjs';
import { launchChromium } from './launch-chromium.mjs';
import { packPng } from './pack-png.mjs';
import { ServerProcess } from './server-process.mjs';

const FOLDER = join(root, 'docs', 'screenshots');
const DESKTOP = { width: 1280, height: 800 };
const TABLET = { width: 820, height: 1180 };
const PHONE = { width: 390, height: 844 };
/** Larger pictures would weigh on every clone. */
const LARGEST = 250_000;
/** Fast-clock time of the running session in its pictures: enough has been run for the graph to show it. */
const SHOWN_AT = (6 * 60 + 50) * 60_000;
const FAST = 30;

prepare();
process.env.CHROMIUM_PATH = ensureChromium();
mkdirSync(FOLDER, { recursive: true });
const PICTURES = { session: sessionPictures, people: peoplePictures };
/** Sets to take; all of them when none is named: `npm run screenshots -- people`. */
const named = process.argv.slice(2);
let server = new ServerProcess({ BLOCKBELL_PLANNING: 'on' });
const browser = await launchChromium();
try {
  for (const [name, take] of Object.entries(PICTURES))
    if (named.length === 0 || named.includes(name)) await take();
} finally {
  await browser.close();
  await server.remove();
}

async function sessionPictures() {
  await server.start();
  await askLineUp(server.address);
  await picture('line-up', { viewport: DESKTOP, colorScheme: 'light' });
  await confirmAndStart(server.address, FAST);
  await until('the clock shows the time of the pictures', isTimeForPictures);
  await setPace(server.address, 1);
  await picture('running-light', { viewport: DESKTOP, colorScheme: 'light' }, chooseWaiting);
  await picture('running-dark', { viewport: DESKTOP, colorScheme: 'dark' }, chooseWaiting);
  await picture('tablet', { viewport: TABLET, colorScheme: 'light' }, chooseWaiting);
  await picture('timetable', { viewport: DESKTOP, colorScheme: 'light' }, workOnTimetable);
  await picture('looking-back', { viewport: DESKTOP, colorScheme: 'light' }, lookBack);
  await picture('staging', { viewport: DESKTOP, colorScheme: 'light' }, showYard);
  await picture('trial', { viewport: DESKTOP, colorScheme: 'light' }, tryRoutes);
  await picture('rehearsal', { viewport: DESKTOP, colorScheme: 'light' }, rehearse);
}

/** A server that is open to the network, and how it looks to each role. */
async function peoplePictures() {
  await server.remove();
  server = new ServerProcess({ BLOCKBELL_NETWORK: 'open' });
  await server.start();
  await addPeople(server, { Dora: 'dispatcher', Carl: 'crew', Vera: 'visitor' });
  await runSession(server.address, 1);
  const crew = { by: 'Bea', train: 0, crew: 'Carl' };
  await tell(server.address, '/crew', crew);
  await command(server.address, { kind: 'take-in-hand', train: 0, take: true });
  const light = { viewport: DESKTOP, colorScheme: 'light' };
  await picture('sign-in', light, undefined, null);
  await picture('people', light, showPeople, 'Bea');
  await picture('visitor', light, undefined, 'Vera');
  await picture('crew', { viewport: PHONE, colorScheme: 'light' }, undefined, 'Carl');
}

async function showPeople(page) {
  await page.getByRole('link', { name: 'People' }).click();
  await page.getByRole('form', { name: 'Add somebody' }).waitFor();
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
 * @param {string | null} [viewer] who signs in; null: nobody; undefined where nobody has to
 */
async function picture(name, view, prepare, viewer) {
  const context = await browser.newContext({ reducedMotion: 'reduce', ...view });
  const page = await context.newPage();
  await page.goto(server.address);
  if (viewer === undefined) {
    await page.getByRole('button', { name: 'Use this name' }).click();
    const trains = page.getByRole('group', { name: 'Trains on the track' });
    await trains.getByRole('button').first().waitFor();
  } else await signInOn(page, viewer);
  await prepare?.(page);
  await page.mouse.move(0, 0);
  const path = join(FOLDER, `${name}.png`);
  const png = packPng(await page.screenshot());
  await context.close();
  writeFileSync(path, png);
  console.log(`${path}: ${Math.round(png.length / 1000)} kB`);
  if (png.length > LARGEST) throw new Error(`${path} is larger than ${LARGEST / 1000} kB`);
}

/** Comes to the first screen that a person sees. */
async function signInOn(page, viewer) {
  const form = page.getByRole('form', { name: 'Sign in' });
  await form.waitFor();
  if (viewer === null) return;
  await form.getByLabel('Name').fill(viewer);
  await form.getByLabel('Passphrase').fill(PASSPHRASE);
  await form.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('main').getByRole('region').first().waitFor();
  await page.getByText('Fetching').waitFor({ state: 'hidden' });
}

/** Looks at the first finding in the timetable. */
async function workOnTimetable(page) {
  await page.getByRole('link', { name: 'Timetable' }).click();
  const findings = page.getByRole('region', { name: 'Findings' });
  await findings.getByRole('button').first().click();
  await findings.getByRole('button', { name: 'Do so' }).waitFor();
  await page.mouse.move(0, 0);
}

async function showYard(page) {
  await page.getByRole('link', { name: 'Staging' }).click();
  await page.getByRole('region', { name: 'The yard now' }).getByRole('table').waitFor();
}

/** Has every route tried. */
async function tryRoutes(page) {
  await page.getByRole('link', { name: 'Trial' }).click();
  const trial = page.getByRole('region', { name: 'Try routes' });
  await trial.getByRole('button', { name: /^Try \d+ routes$/ }).click();
  await trial.getByText(/passed, \d+ failed/).waitFor();
}

/** Rehearses a few sessions, compared with others by another way of dispatching. */
async function rehearse(page) {
  await page.getByRole('link', { name: 'Rehearsal' }).click();
  const panel = page.getByRole('region', { name: 'Rehearse', exact: true });
  await panel.getByLabel('Sessions').fill('8');
  await panel.getByLabel('Dispatching').selectOption('booked');
  await panel.getByRole('button', { name: /^Rehearse \d+ sessions$/ }).click();
  await panel.getByText(/^8 of 8 done, in/).waitFor();
  await page
    .getByRole('region', { name: 'Report', exact: true })
    .getByRole('img')
    .first()
    .waitFor();
}

/** Looks back on some minutes before. */
async function lookBack(page) {
  await page.getByRole('link', { name: 'Sessions' }).click();
  await page.getByRole('region', { name: 'Stored sessions' }).getByRole('link').first().click();
  const slider = page.getByRole('slider', { name: 'Moment of the session' });
  await slider.waitFor();
  await page.getByLabel('Report of the session').waitFor();
  await slider.press('End');
  for (let minutes = 0; minutes < 2; minutes++) await slider.press('Shift+ArrowLeft');
  await page.mouse.move(0, 0);
}

/** Has the board explain a train that waits for another. */
async function chooseWaiting(page) {
  const rows = page.getByRole('region', { name: 'Trains', exact: true }).getByRole('button');
  await rows.filter({ hasText: 'waits: ' }).first().click();
  await page.getByRole('region', { name: 'Chosen train' }).waitFor();
  await page.mouse.move(0, 0);
}
