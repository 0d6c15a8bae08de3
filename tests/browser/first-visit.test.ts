import { expect, test } from 'vitest';
import { beginSession } from '../support/drive-session.mjs';
import {
  expectMoved,
  expectPaceTaken,
  expectPhase,
  expectPhaseAfter,
} from './support/expectations.js';
import { useStage } from './support/stage.js';

const stage = useStage();

test('a first visit finds what to mind before power goes on, and what to do', async () => {
  const board = await stage.board();
  await expectPhase(board, 'set up');
  expect(await board.page.title()).toMatch(/ · Blockbell$/);

  const cautions = board.page.getByRole('note', { name: 'Before power goes on' });
  await cautions.getByRole('listitem').first().waitFor();
  expect(await cautions.getByRole('listitem').allTextContents()).toEqual([
    expect.stringContaining('hand-operated power cut within reach'),
    expect.stringContaining('Boosters deliver currents that can burn'),
    expect.stringContaining('physical stops of their own'),
    expect.stringContaining('Children only under supervision'),
  ]);
  expect(await board.lineUp.getByRole('status').textContent()).toMatch(
    /^Put the trains where they are listed, then switch track power on/,
  );
  expect(
    await board.lineUp
      .getByRole('list', { name: /^Trains/ })
      .getByRole('listitem')
      .count(),
  ).toBe(16);
  await expect.poll(() => board.labels.count()).toBe(16);
  await expect.poll(() => board.alarms.textContent()).toContain('Nothing is out of order.');
  await expect.poll(() => board.log.textContent()).toContain('Nothing has happened yet.');
  expect(await board.cutPower.isEnabled()).toBe(true);
});

test('whoever is at the board says a name once; it stands beside the commands in the log', async () => {
  await beginSession(stage.server.address);
  const board = await stage.board();
  const name = board.page.getByRole('textbox', { name: /^Who is at the board/ });
  await name.fill('Marlow');
  await board.page.getByRole('button', { name: 'Use this name' }).click();
  await name.waitFor({ state: 'detached' });
  await board.control('Power up').click();
  await expect.poll(() => board.log.textContent()).toContain('Marlow');
  await board.page.reload();
  await expectPhase(board, 'line-up');
  expect(await name.count()).toBe(0);
});

test('line-up: Start is barred with its reason until every silent train is confirmed', async () => {
  await beginSession(stage.server.address);
  const board = await stage.board();
  await expectPaceTaken(board, 60);
  await board.lineUp.getByRole('button', { name: 'Power up' }).click();
  await expectPhase(board, 'line-up');

  const start = board.lineUp.getByRole('button', { name: 'Start' });
  const reason = '3 questions are still open in the line-up.';
  await expect.poll(() => start.getAttribute('title')).toBe(reason);
  expect(await start.getAttribute('aria-disabled')).toBe('true');
  expect(await board.lineUp.textContent()).toContain(reason);
  await start.press('Enter');
  expect(await board.notice.textContent()).toContain(reason);
  await board.page.getByRole('button', { name: 'Close this message' }).click();
  await expectPhase(board, 'line-up');

  const confirm = board.lineUp.getByRole('button', { name: /^Confirm \S+ as listed$/ });
  await expect.poll(() => confirm.count()).toBe(3);
  await confirm.first().click();
  await expect.poll(() => confirm.count()).toBe(2);
  await board.lineUp.getByRole('button', { name: 'Confirm all 2 as listed' }).click();
  await expect.poll(() => start.getAttribute('aria-disabled')).toBe('false');
  expect(await board.lineUp.getByRole('status').textContent()).toContain('Start the session.');

  await expectPhaseAfter(board.control('Start'), board, 'running');
  await board.trainList.waitFor();
  await expect.poll(() => board.lineUp.count()).toBe(0);
  const before = await board.places();
  await expectMoved(board, before, 1);
});
