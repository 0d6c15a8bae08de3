import { beforeEach, expect, test } from 'vitest';
import { askLineUp, beginSession, look, runSession } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import {
  expectAllStanding,
  expectMoved,
  expectPaceTaken,
  expectPhase,
  expectPhaseAfter,
  settleLineUp,
} from './support/expectations.js';
import { useStage } from './support/stage.js';

const stage = useStage();

beforeEach(() => beginSession(stage.server.address));

const districts = async () => (await look(stage.server.address)).rows.session?.districts ?? [];

test('power is cut by its button, and comes back by way of a checked line-up', async () => {
  await runSession(stage.server.address, 20);
  const board = await stage.board();
  await expect.poll(() => board.moving()).not.toEqual([]);
  await board.cutPower.click();
  await expectPhase(board, 'power cut');
  await expect
    .poll(() => board.notes.textContent())
    .toMatch(/Track power is off.*Nothing was released; power up again when the cause is mended\./);
  await expectAllStanding(board);
  await expect.poll(districts).toEqual(expect.not.arrayContaining(['on']));
  await expect.poll(() => board.alarms.textContent()).toContain('Track power is off');

  await expectPaceTaken(board, 60);
  await board.control('Power up').click();
  await expectPhase(board, 'line-up');
  await expect.poll(districts).toEqual(expect.not.arrayContaining(['off']));
  const open = board.lineUp.getByRole('button', { name: /^Confirm \S+ as listed$/ });
  await expect.poll(() => open.count()).toBeGreaterThanOrEqual(3);
  // Nothing restarts unasked. Where trains are found in the line-up is shown a few pictures later.
  await board.drawOn();
  const places = await board.places();
  await board.drawOn();
  expect(await board.places()).toEqual(places);
  await settleLineUp(board);
  await expectPhaseAfter(board.control('Start'), board, 'running');
  await expectMoved(board, places, 1);
});

const FOCUSED: readonly [string, (board: BoardPage) => Promise<void>][] = [
  ['nothing', (board) => board.page.locator('body').press('Home')],
  ['a field being written in', ({ page }) => page.getByPlaceholder('Find on the track').fill('Y')],
  ['the choice of the pace', (board) => board.pace.focus()],
  ['the diagram', (board) => board.diagram.focus()],
  ['a train on the diagram', (board) => board.labels.first().focus()],
  [
    'the open menu',
    async ({ page }) => {
      await page.getByRole('button', { name: 'Session and display' }).click();
      await page.getByRole('textbox', { name: 'Your name on commands' }).focus();
    },
  ],
];

test.each(FOCUSED)('Shift and Escape cut power with the focus on %s', async (_, focus) => {
  await askLineUp(stage.server.address);
  const board = await stage.board();
  await expectPhase(board, 'line-up');
  await focus(board);
  await board.page.keyboard.press('Shift+Escape');
  await expectPhase(board, 'power cut');
  await expect.poll(districts).toEqual(expect.not.arrayContaining(['on']));
});
