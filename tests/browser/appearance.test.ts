import { beforeAll, describe, expect, test } from 'vitest';
import { askLineUp, beginSession, runSession, setPace } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { boxesOf, labelsOnTrack, overlaps } from './support/boxes.js';
import { expectMoved } from './support/expectations.js';
import { expectOpenToAll, expectWithin, inEachView, type View } from './support/in-order.js';
import { DESKTOP, useStage, VIEWS } from './support/stage.js';

const stage = useStage();

/** How often the labels of moving trains are looked at. */
const LOOKS = 8;

describe('before a session', () => {
  beforeAll(async () => {
    await beginSession(stage.server.address);
    await askLineUp(stage.server.address);
  });

  test('the line-up is in order in light and dark, at each size', async () => {
    const board = await stage.board();
    await inEachView(board.page, VIEWS, async (view) => {
      await board.lineUp.getByRole('button', { name: /^Confirm all/ }).waitFor();
      await expectInOrder(board, view);
      // Labels find their places with the pictures after the window has its size.
      await board.drawOn();
      expect(overlaps(await labelsOnTrack(board.page))).toEqual([]);
    });
  });
});

describe('while a session runs', () => {
  beforeAll(async () => {
    await beginSession(stage.server.address);
    await runSession(stage.server.address, 1);
  });

  test('the run screen is in order in light and dark, at each size', async () => {
    const board = await stage.board();
    await board.trainList.getByRole('button').first().press('Enter');
    await inEachView(board.page, VIEWS, async (view) => {
      await board.page.getByRole('region', { name: 'Chosen train' }).waitFor();
      await expectInOrder(board, view);
    });
  });

  test('the labels of moving trains cover neither names nor one another', async () => {
    await setPace(stage.server.address, 20);
    const board = await stage.board();
    for (let seen = 0; seen < LOOKS; seen++) {
      await expectMoved(board, await board.places(), 1);
      const labels = await labelsOnTrack(board.page);
      expect(labels.length).toBeGreaterThan(30);
      expect(overlaps(labels)).toEqual([]);
    }
  });
});

/** Nothing runs out of the window, no control lies on another, and no viewer is shut out. */
async function expectInOrder(board: BoardPage, view: View): Promise<void> {
  const { page, header } = board;
  await expectWithin(page, view.viewport.width);

  const controls = await boxesOf(header.locator('button:visible, select:visible, time, h1, p'));
  expect(controls.length).toBeGreaterThan(6);
  expect(overlaps(controls)).toEqual([]);
  for (const { name, x, width: wide } of controls)
    expect({ name, inside: x >= 0 && x + wide <= view.viewport.width }).toEqual({
      name,
      inside: true,
    });

  const background = await page
    .locator('body')
    .evaluate((body) => getComputedStyle(body).backgroundColor);
  const [red = 0] = background.match(/\d+/g)?.map(Number) ?? [];
  expect(red > 128).toBe(view.colorScheme === 'light');

  // Colours and names are the same whatever the size of the window.
  if (view.viewport === DESKTOP) await expectOpenToAll(page, view);
}
