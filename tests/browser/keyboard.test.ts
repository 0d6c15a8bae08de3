import type { Page } from 'playwright-core';
import { beforeEach, expect, test } from 'vitest';
import { askLineUp, beginSession, command, runSession } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { expectMoved, expectPhase } from './support/expectations.js';
import { DESKTOP, useStage } from './support/stage.js';

const stage = useStage();

beforeEach(() => beginSession(stage.server.address));

/** How far around a control its focus may be drawn, pixels. */
const AROUND = 5;
const DESKTOP_BOX = { x: 0, y: 0, ...DESKTOP };
/** More Tab stops than any screen has. */
const ROUND = 120;

/** What has the focus, in words: its role or tag, and its name. */
const focused = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const here = document.activeElement;
    if (!here || here === document.body) return '';
    const name =
      here.getAttribute('aria-label') ??
      (here instanceof HTMLInputElement || here instanceof HTMLSelectElement
        ? here.labels?.[0]?.textContent
        : here.textContent);
    const kind = here.getAttribute('role') ?? here.tagName.toLowerCase();
    return `${kind} ${name?.trim().replaceAll(/\s+/g, ' ') ?? ''}`;
  });

/** Tab stops from the address bar to where the page ends; each is marked with its number in the round. */
async function tabRound(page: Page): Promise<string[]> {
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
  const stops: string[] = [];
  while (stops.length < ROUND) {
    await page.keyboard.press('Tab');
    const fresh = await page.evaluate((number) => {
      const here = document.activeElement as HTMLElement | SVGElement | null;
      if (!here || here === document.body || here.dataset['stop']) return false;
      here.dataset['stop'] = String(number);
      return true;
    }, stops.length);
    if (!fresh) break;
    stops.push(await focused(page));
  }
  return stops;
}

/** Presses Tab until what matches has the focus. */
async function tabTo(page: Page, wanted: RegExp): Promise<void> {
  for (let pressed = 0; pressed < ROUND; pressed++) {
    if (wanted.test(await focused(page))) return;
    await page.keyboard.press('Tab');
  }
  throw new Error(`Tab never came to ${wanted}`);
}

/** All that Tab has to reach; in a group with arrow keys one member, which is its Tab stop. */
const CONTROLS = [
  'button:visible:not([data-roving]):not([disabled])',
  'select:visible',
  'input:visible:not([type=radio])',
  'a[href]:visible',
  '[tabindex="0"]:visible',
].join(', ');

async function expectEverythingReached({ page }: BoardPage): Promise<string[]> {
  const stops = await tabRound(page);
  const controls = page.locator(CONTROLS);
  expect(await controls.count()).toBeGreaterThan(10);
  const missed = await controls.evaluateAll((all) =>
    all.filter((one) => !one.hasAttribute('data-stop')).map((one) => one.outerHTML),
  );
  expect(missed).toEqual([]);
  return stops;
}

/** That the focus can be seen: with it, the pixels of the Tab stop and around it are others than without. */
async function expectFocusSeen(page: Page, number: number): Promise<void> {
  const stop = page.locator(`[data-stop="${number}"]`);
  await page.keyboard.press('Tab');
  expect(await stop.evaluate((one) => one === document.activeElement)).toBe(true);
  const { x, y, width, height } = (await stop.boundingBox()) ?? DESKTOP_BOX;
  const left = Math.max(0, x - AROUND);
  const top = Math.max(0, y - AROUND);
  const clip = {
    x: left,
    y: top,
    width: Math.min(x + width + AROUND, DESKTOP.width) - left,
    height: Math.min(y + height + AROUND, DESKTOP.height) - top,
  };
  const withFocus = await page.screenshot({ clip });
  await stop.evaluate((one: HTMLElement) => one.blur());
  const without = await page.screenshot({ clip });
  await stop.evaluate((one: HTMLElement) => one.focus());
  const what = await focused(page);
  expect({ what, seen: !withFocus.equals(without) }).toEqual({ what, seen: true });
}

test('from the address bar, Tab reaches every control of the line-up, each seen to have the focus', async () => {
  await askLineUp(stage.server.address);
  const board = await stage.board();
  await board.lineUp.getByRole('button', { name: /^Confirm all/ }).waitFor();
  const stops = await expectEverythingReached(board);
  for (const number of stops.keys()) await expectFocusSeen(board.page, number);
});

test('a session is lined up, started and run by keyboard alone', async () => {
  const board = await stage.board();
  const { page } = board;
  const { keyboard } = page;
  await expectPhase(board, 'set up');
  await tabTo(page, /^select Pace/);
  await keyboard.press('End');
  await expect.poll(() => board.pace.inputValue()).toBe('60');
  await tabTo(page, /^button Power up/);
  await keyboard.press('Enter');
  await expectPhase(board, 'line-up');
  await board.lineUp.getByRole('button', { name: /^Confirm all/ }).waitFor();
  await tabTo(page, /^button Confirm all/);
  await keyboard.press('Space');
  await expect.poll(() => board.control('Start').getAttribute('aria-disabled')).toBe('false');
  await tabTo(page, /^button Start/);
  await expect
    .poll(async () => {
      if ((await focused(page)).startsWith('button Start')) await keyboard.press('Enter');
      return board.phase.textContent();
    })
    .toContain('running');
  // The line-up is gone, and the trains are listed in its place.
  await expect.poll(() => focused(page)).not.toBe('');

  await tabTo(page, /^button Stop all now/);
  await keyboard.press('Enter');
  await expectPhase(board, 'all stopped');
});

test('while a session runs, Tab reaches every control, and arrow keys every train', async () => {
  await runSession(stage.server.address, 1);
  await command(stage.server.address, { kind: 'pause' });
  const board = await stage.board();
  const { page } = board;
  const { keyboard } = page;
  await expectPhase(board, 'paused');
  await expectEverythingReached(board);

  const rows = board.trainList.getByRole('button');
  await tabTo(page, /^button .*, known /);
  await keyboard.press('End');
  expect(await rows.last().evaluate((row) => row === document.activeElement)).toBe(true);
  await keyboard.press('ArrowUp');
  await keyboard.press('Enter');
  const chosen = page.getByRole('region', { name: 'Chosen train' });
  await chosen.waitFor();
  await tabTo(page, /^button Hold here/);
  await keyboard.press('Enter');
  await chosen.getByRole('button', { name: 'Let go' }).waitFor();
  // What opened something gets the focus back when it is closed, by its button or by Escape.
  await tabTo(page, /^button Close/);
  await keyboard.press('Enter');
  await chosen.waitFor({ state: 'detached' });
  expect(await focused(page)).toMatch(/^button .*, known /);
  await keyboard.press('Enter');
  await tabTo(page, /^button Set a route/);
  await keyboard.press('Enter');
  await tabTo(page, /^input Block where/);
  await keyboard.press('Escape');
  await expect.poll(() => focused(page)).toBe('button Set a route');
  await keyboard.press('Escape');
  await chosen.waitFor({ state: 'detached' });
  expect(await focused(page)).toMatch(/^button .*, known /);

  // A button that vanishes leaves the focus to what was around it, not to another button.
  await tabTo(page, /^button Resume/);
  await keyboard.press('Enter');
  await expectPhase(board, 'running');
  await expect.poll(() => focused(page)).toMatch(/^group Session/);
  await tabTo(page, /^button Pause/);
  await keyboard.press('Enter');
  await expectPhase(board, 'paused');

  await tabTo(page, /^button Train .* on the graph/);
  await keyboard.press('ArrowRight');
  await keyboard.press('Enter');
  await chosen.waitFor();
  await tabTo(page, /^button Train [^,]+, /);
  await keyboard.press('ArrowDown');
  const label = page.locator(':focus');
  const chosenBefore = await label.getAttribute('aria-pressed');
  await keyboard.press('Space');
  await expect.poll(() => label.getAttribute('aria-pressed')).not.toBe(chosenBefore);
});

test('the diagram is moved, magnified and searched by keyboard', async () => {
  const board = await stage.board();
  const { page } = board;
  const { keyboard } = page;
  await tabTo(page, /^group Track diagram/);
  const before = await board.places();
  await keyboard.press('+');
  await expectMoved(board, before, 1);
  const larger = await board.places();
  await keyboard.press('ArrowRight');
  await expectMoved(board, larger, 1);
  await keyboard.press('0');
  await expect.poll(() => board.places()).toEqual(before);

  await tabTo(page, /^input Find a train/);
  await keyboard.type('101');
  await keyboard.press('Enter');
  await page.getByRole('region', { name: 'Chosen train' }).waitFor();
});

test('the menu opens, chooses the dark, and closes by keyboard', async () => {
  const board = await stage.board({ colorScheme: 'light' });
  const { page } = board;
  const { keyboard } = page;
  await tabTo(page, /^button Session and display/);
  await keyboard.press('Enter');
  await page.getByRole('radio', { name: 'As the system' }).waitFor();
  await tabTo(page, /^input As the system/);
  await keyboard.press('ArrowDown');
  await keyboard.press('ArrowDown');
  expect(await page.getByRole('radio', { name: 'Dark' }).isChecked()).toBe(true);
  await expect
    .poll(() => page.locator('html').evaluate((root) => getComputedStyle(root).colorScheme))
    .toBe('dark');
  await keyboard.press('Escape');
  await page.getByRole('radio', { name: 'Dark' }).waitFor({ state: 'hidden' });
  await page.reload();
  await expect
    .poll(() => page.locator('html').evaluate((root) => getComputedStyle(root).colorScheme))
    .toBe('dark');
});
