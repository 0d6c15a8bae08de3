import { AxeBuilder } from '@axe-core/playwright';
import { beforeAll, describe, expect, test } from 'vitest';
import { askLineUp, beginSession, runSession, setPace } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { boxesOf, labelsOnTrack, overlaps } from './support/boxes.js';
import { expectMoved } from './support/expectations.js';
import { DESKTOP, TABLET, useStage } from './support/stage.js';

const stage = useStage();

const VIEWS = [
  { colorScheme: 'light', viewport: DESKTOP },
  { colorScheme: 'dark', viewport: DESKTOP },
  { colorScheme: 'light', viewport: TABLET },
  { colorScheme: 'dark', viewport: TABLET },
] as const;
/** How often the labels of moving trains are looked at. */
const LOOKS = 8;

describe('before a session', () => {
  beforeAll(async () => {
    await beginSession(stage.server.address);
    await askLineUp(stage.server.address);
  });

  test.each(VIEWS)(
    'the line-up is in order in $colorScheme at $viewport.width × $viewport.height',
    async (view) => {
      const board = await stage.board(view);
      await board.lineUp.getByRole('button', { name: /^Confirm all/ }).waitFor();
      await expectInOrder(board, view);
      expect(overlaps(await labelsOnTrack(board.page))).toEqual([]);
    },
  );
});

describe('while a session runs', () => {
  beforeAll(async () => {
    await beginSession(stage.server.address);
    await runSession(stage.server.address, 1);
  });

  test.each(VIEWS)(
    'the run screen is in order in $colorScheme at $viewport.width × $viewport.height',
    async (view) => {
      const board = await stage.board(view);
      await board.trainList.getByRole('button').first().press('Enter');
      await board.page.getByRole('region', { name: 'Chosen train' }).waitFor();
      await expectInOrder(board, view);
    },
  );

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
async function expectInOrder(board: BoardPage, view: (typeof VIEWS)[number]): Promise<void> {
  const { page, header } = board;
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  expect(width).toBeLessThanOrEqual(view.viewport.width);

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
  if (view.viewport !== DESKTOP) return;
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(
    violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join('\n')}`),
  ).toEqual([]);
}
