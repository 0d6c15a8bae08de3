import type { Locator, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { BoardPage } from './support/board-page.js';
import { expectInOrder, inEachView } from './support/in-order.js';
import { FEW_VIEWS, TABLET, useStage } from './support/stage.js';

/** Two trains that cross at Pennick three times: 3 from Lowmarsh, 1047 from Highmarsh. */
const stage = useStage({ BLOCKBELL_EXAMPLE: 'passing-loop' });

interface TimetableScreen {
  readonly page: Page;
  readonly findings: Locator;
  readonly summary: Locator;
  /** The departure of a service from a station, on the graph. */
  departure(service: string, station: string): Locator;
}

async function open({ page }: BoardPage): Promise<TimetableScreen> {
  await page.getByRole('button', { name: 'Use this name' }).click();
  await page.getByRole('link', { name: 'Timetable' }).click();
  const findings = page.getByRole('region', { name: 'Findings' });
  const screen = {
    page,
    findings,
    summary: findings.getByRole('status'),
    departure: (service: string, station: string) =>
      page.getByRole('slider', { name: `${service} leaves ${station}`, exact: true }),
  };
  await expectSummary(screen, 'Nothing is found: trains can keep these times.');
  return screen;
}

/** Waits until what is found is summed up so. */
const expectSummary = ({ summary }: TimetableScreen, words: string | RegExp): Promise<void> =>
  expect
    .poll(async () => (await summary.textContent())?.replaceAll(/\s+/g, ' ').trim())
    .toMatch(words);

const timeOf = (departure: Locator) => departure.getAttribute('aria-valuetext');

/** A point in the middle of a line on the graph. */
const middleOf = (line: Locator): Promise<{ x: number; y: number }> =>
  line.locator('path.booked').evaluate((path: SVGPathElement) => {
    const at = path.getPointAtLength(path.getTotalLength() * 0.2);
    const { x, y } = at.matrixTransform(path.getScreenCTM()!);
    return { x, y };
  });

test('a train dragged with the mouse shows its conflicts at once, and undo brings it back', async () => {
  const screen = await open(await stage.board());
  const { page, departure } = screen;
  const line = departure('S47-1', 'Highmarsh');
  expect(await timeOf(line)).toBe('08:05');
  const { x, y } = await middleOf(line);
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let step = 1; step <= 8; step++) await page.mouse.move(x + step * 12, y);
  expect(await timeOf(line)).not.toBe('08:05');
  await expectSummary(screen, /^[1-9]\d* (breaks|break) the timetable/);
  await page.mouse.up();
  await page.getByRole('button', { name: 'Undo' }).click();
  expect(await timeOf(line)).toBe('08:05');
  await expectSummary(screen, 'Nothing is found: trains can keep these times.');
});

test('a train dragged with a finger moves, and the page does not', async () => {
  const screen = await open(await stage.board({ viewport: TABLET, hasTouch: true }));
  const { page, departure } = screen;
  const line = departure('S47-1', 'Highmarsh');
  const scrolled = () => page.evaluate(() => [scrollX, scrollY]);
  // The finger comes down once the sheet has found its size.
  let spot = await middleOf(line);
  await expect
    .poll(async () => {
      const last = spot;
      spot = await middleOf(line);
      return last.x === spot.x && last.y === spot.y;
    })
    .toBe(true);
  const { x, y } = spot;
  const before = await scrolled();
  const finger = await page.context().newCDPSession(page);
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', dx: number, dy: number) =>
    finger.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: type === 'touchEnd' ? [] : [{ x: x + dx, y: y + dy }],
    });
  await touch('touchStart', 0, 0);
  for (let step = 1; step <= 8; step++) await touch('touchMove', step * 12, step * 4);
  await touch('touchEnd', 0, 0);
  await expect.poll(() => timeOf(line)).not.toBe('08:05');
  expect(await scrolled()).toEqual(before);
  await expectSummary(screen, /^[1-9]\d* (breaks|break) the timetable/);
  // Not by a tap: on a busy machine the browser makes no click of one that takes long.
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => timeOf(line)).toBe('08:05');
});

test('by keyboard: a minute at a time, a finding looked at, its proposal taken, the timetable saved and run', async () => {
  const screen = await open(await stage.board());
  const { page, departure, findings } = screen;
  const { keyboard } = page;
  await departure('S3-1', 'Lowmarsh').focus();
  await keyboard.press('ArrowDown');
  expect(await page.evaluate(() => document.activeElement?.getAttribute('data-service'))).toBe(
    'S47-1',
  );
  await keyboard.press('Enter');
  const loop = departure('S47-1', 'Pennick');
  await loop.focus();
  for (let minutes = 0; minutes < 2; minutes++) await keyboard.press('ArrowLeft');
  expect(await timeOf(loop)).toBe('08:11');
  await expectSummary(screen, /^1 breaks the timetable, 0 are tight/);

  const finding = findings.getByRole('button', { name: /^Dwell too short/ });
  await finding.press('Enter');
  expect(await finding.getAttribute('aria-pressed')).toBe('true');
  await findings.getByRole('button', { name: 'Do so' }).press('Enter');
  await expectSummary(screen, 'Nothing is found: trains can keep these times.');
  expect(await timeOf(loop)).toBe('08:12');

  const form = page.getByRole('form', { name: 'Save' });
  await form.getByLabel('Name').fill('A minute less at the loop');
  await keyboard.press('Enter');
  const kept = page.getByText(/^Saved as “A minute less at the loop”/);
  const [, hash = ''] = /\(([0-9a-f]{16})\)/.exec((await kept.textContent()) ?? '') ?? [];
  const stored = await fetch(new URL(`api/files/${hash}`, stage.server.address));
  expect(await stored.json()).toMatchObject({
    kind: 'blockbell-timetable',
    name: 'A minute less at the loop',
  });

  await page.getByRole('button', { name: 'Begin a session with it' }).press('Enter');
  await page.getByText('As the session has it.').waitFor();
  expect(await timeOf(departure('S47-1', 'Highmarsh'))).toBe('08:05');
  const { timetable } = (await (
    await fetch(new URL('api/session/files', stage.server.address))
  ).json()) as { timetable: { name: string } };
  expect(timetable.name).toBe('A minute less at the loop');
});

test('the screen is in order, light on a desktop and dark on a tablet', async () => {
  const { page, departure, findings } = await open(await stage.board());
  await departure('S3-1', 'Lowmarsh').focus();
  await page.keyboard.press('Shift+ArrowRight');
  await findings.getByRole('button').first().click();
  await inEachView(page, FEW_VIEWS, async (view) => {
    await findings.getByRole('button', { name: 'Do so' }).first().waitFor();
    await expectInOrder(page, view);
  });
});
