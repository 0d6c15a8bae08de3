import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { command, runSession, setPace } from '../support/drive-session.mjs';
import { useStage } from './support/stage.js';

const stage = useStage();

/** Wall-clock ms for which trains run, so that the picture is painted piece by piece. */
const WATCHED = 8_000;
/** Wall-clock ms without any change after which nothing is under way any more. */
const SETTLED = 1_500;

test('a picture painted piece by piece is the one that is painted at once', async () => {
  const { address } = stage.server;
  const board = await stage.board({ reducedMotion: 'no-preference', colorScheme: 'light' });
  await runSession(address, 10);
  await board.labels.first().waitFor();
  await expect.poll(async () => (await board.moving()).length).toBeGreaterThan(1);
  await board.page.waitForTimeout(WATCHED);
  await command(address, { kind: 'stop-all' });
  await setPace(address, 60);
  await expect.poll(() => board.moving()).toEqual([]);
  await setPace(address, 1);
  let piecewise = await canvases(board.page);
  await expect
    .poll(async () => {
      const before = piecewise;
      await board.drawOn();
      await board.page.waitForTimeout(SETTLED);
      piecewise = await canvases(board.page);
      return piecewise.every((picture, at) => picture === before[at]);
    })
    .toBe(true);
  const dark = await canvasesIn(board.page, 'dark');
  const atOnce = await canvasesIn(board.page, 'light');
  expect(piecewise).toHaveLength(3);
  dark.forEach((picture, at) => expect(picture).not.toBe(piecewise[at]));
  expect(atOnce.map((picture, at) => picture === piecewise[at])).toEqual([true, true, true]);
});

/** In other colours everything is painted anew. */
async function canvasesIn(page: Page, theme: 'dark' | 'light'): Promise<string[]> {
  const before = await canvases(page);
  await page.evaluate((chosen) => (document.documentElement.dataset['theme'] = chosen), theme);
  await expect
    .poll(async () => (await canvases(page)).filter((picture, at) => picture === before[at]))
    .toEqual([]);
  return canvases(page);
}

/** What is painted on each canvas of the diagram. */
const canvases = (page: Page): Promise<string[]> =>
  page
    .getByRole('group', { name: /^Track diagram of / })
    .locator('canvas')
    .evaluateAll((found) =>
      found.map((canvas) => (canvas instanceof HTMLCanvasElement ? canvas.toDataURL() : '')),
    );
