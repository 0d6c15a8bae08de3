import { beforeEach, expect, test } from 'vitest';
import { beginSession, look, runSession, setPace } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { expectPhase } from './support/expectations.js';
import { keyboard } from './support/hands.js';
import { filesOf } from './support/session-files.js';
import { useStage } from './support/stage.js';

const stage = useStage();

beforeEach(async () => {
  await beginSession(stage.server.address, { example: 'passing-loop' });
});

/** Finds a train or track by its name, as somebody without a mouse does. */
async function choose(board: BoardPage, name: string): Promise<void> {
  const search = board.page.getByRole('combobox', { name: /^Find a train, block or turnout/ });
  await search.fill(name);
  await search.press('Enter');
}

test('the effect of holding a train is shown before it is held, and can be left or confirmed', async () => {
  const board = await stage.board();
  await runSession(stage.server.address, 1);
  await expectPhase(board, 'running');
  const { rows } = await look(stage.server.address);
  const train = rows.trains!.find(({ activity }) => activity !== 'absent')!.train;
  await board.trainList.getByRole('button').nth(train).click();
  const panel = board.page.getByRole('region', { name: 'Chosen train' });
  const show = panel.getByRole('button', { name: /^Show the effect of holding / });

  await show.click();
  const told = panel.getByText(/^Of \d+ arrivals? until \d\d:\d\d, \d+ at another time\./);
  await told.waitFor();
  expect(await panel.getByRole('status').textContent()).toContain('if nothing else happens');
  const arrivals = panel.getByRole('table', { name: 'Arrivals at another time' });
  expect(await arrivals.textContent()).toMatch(/not by \d\d:\d\d/);
  expect(await panel.textContent()).toContain('the dispatcher holds it');
  const isHeld = async () =>
    (await look(stage.server.address)).rows.trains!.find((it) => it.train === train)!.held;
  expect(await isHeld()).toBe(false);

  await panel.getByRole('button', { name: 'Leave it' }).press('Enter');
  await told.waitFor({ state: 'detached' });
  expect(await show.evaluate((button) => button === document.activeElement)).toBe(true);

  await show.press('Enter');
  await panel.getByRole('button', { name: /^Hold (?!here)/ }).press('Enter');
  await panel.getByRole('button', { name: 'Let go', exact: true }).waitFor();
  expect(await isHeld()).toBe(true);
});

test('what closing a block does is told from the keyboard; then it is closed for a reason', async () => {
  const board = await stage.board();
  await runSession(stage.server.address, 1);
  await expectPhase(board, 'running');
  await choose(board, 'P2');
  const details = board.page.getByRole('region', { name: 'Chosen track' });
  await details.getByRole('button', { name: 'Show the effect of closing P2' }).press('Enter');
  await details.getByText(/^Of \d+ arrivals? until/).waitFor();
  await details.getByLabel('Close for work').fill('rail joint');
  await details.getByRole('button', { name: 'Close it' }).press('Enter');
  await details.getByRole('button', { name: 'Reopen P2', exact: true }).waitFor();
  expect(await details.textContent()).toContain('rail joint');
});

test('services are cancelled and a train is put before another, each after its effect was shown', async () => {
  const board = await stage.board();
  await runSession(stage.server.address, 1);
  await expectPhase(board, 'running');
  await board.trainList.getByRole('button').first().press('Enter');
  const panel = board.page.getByRole('region', { name: 'Chosen train' });
  await panel.getByText(/^Change what /).press('Enter');

  const cancelled = panel.getByRole('group', { name: 'Does not run' });
  const services = cancelled.getByRole('combobox', { name: 'Does not run' });
  await cancelled.getByRole('button', { name: /^Show the effect of cancelling / }).press('Enter');
  await cancelled.getByText(/^It would be refused: .* Cancel up to a service that ends/).waitFor();
  const both = (await services.locator('option').allTextContents()).find((it) => / and /.test(it))!;
  await services.selectOption(both);
  await cancelled.getByRole('button', { name: /^Show the effect of cancelling / }).click();
  await cancelled.getByRole('cell', { name: 'cancelled' }).first().waitFor();
  await cancelled.getByRole('button', { name: 'Cancel after all' }).click();
  const wished = panel.getByRole('list', { name: /^What is wished of / });
  for (const name of both.split(' and ')) await wished.getByText(`${name} is cancelled.`).waitFor();

  const first = panel.getByRole('group', { name: 'Goes before' });
  await first.getByRole('button', { name: /^Show the effect of letting / }).press('Enter');
  await first.getByText(/^Of \d+ arrivals? until/).waitFor();
  await first.getByRole('button', { name: 'Let it go first after all' }).press('Enter');
  await wished.getByText(/^Goes before /).waitFor();
  await wished.getByRole('button', { name: /^Take back that it goes before / }).press('Enter');
  await wished.getByText(/^Goes before /).waitFor({ state: 'detached' });
  await wished
    .getByRole('button', { name: /^Have .* run after all/ })
    .first()
    .press('Enter');
  await wished.waitFor({ state: 'detached' });
});

test('a service is added to the work of a train from the keyboard, after its effect was shown', async () => {
  const board = await stage.board();
  await runSession(stage.server.address, 1);
  await expectPhase(board, 'running');
  await board.trainList.getByRole('button').first().press('Enter');
  const panel = board.page.getByRole('region', { name: 'Chosen train' });
  await panel.getByText(/^Change what /).press('Enter');
  const adding = panel.getByRole('group', { name: /^Runs as well/ });

  await adding.getByLabel('Not before').fill('soon');
  await adding.getByText(/^Write the time as hours and minutes/).waitFor();
  expect(await adding.getByRole('button').count()).toBe(0);
  await adding.getByLabel('Not before').fill('');
  const places = adding.getByRole('combobox', { name: 'Goes to' });
  await places.focus();
  await places.press('End');
  // The place between both ends of the line: from either it can be gone to.
  await places.press('ArrowUp');
  await adding.getByLabel('Its name').fill('Evening extra');
  await adding
    .getByRole('button', { name: /^Show the effect of adding Evening extra/ })
    .press('Enter');
  await adding.getByText(/^Of \d+ arrivals? until/).waitFor();
  const before = await look(stage.server.address);
  expect(before.rows.session!.added!.services).toEqual([]);
  await adding.getByRole('button', { name: 'Add it after all' }).press('Enter');
  await expect
    .poll(async () => (await look(stage.server.address)).rows.session!.added!.services.length)
    .toBe(1);
  // It is one of the train's services now, which can be cancelled as the others can.
  const cancelled = panel.getByRole('combobox', { name: 'Does not run' });
  await cancelled
    .locator('option', { hasText: 'Evening extra' })
    .first()
    .waitFor({ state: 'attached' });
});

test('a train is sent into another track after its effect was shown, and arrives there', async () => {
  const { address } = stage.server;
  await beginSession(address, { example: 'demo' });
  const board = await stage.board();
  await runSession(address, 1);
  await expectPhase(board, 'running');
  const panel = board.page.getByRole('region', { name: 'Chosen train' });
  await choose(board, '64');
  await panel.getByText(/^Change what 64 does/).press('Enter');
  const into = panel.getByRole('group', { name: 'Goes into' });
  const tracks = into.getByRole('combobox', { name: 'Goes into' });
  const train = (await filesOf(address)).labels.indexOf('64');
  const now = async () => (await look(address)).rows.trains!.find((row) => row.train === train)!;
  const [next] = (await now()).forecast!.calls.filter(({ arrive }) => arrive !== null);
  const offered = await tracks.locator('option').allTextContents();
  const [, station] = / at (.+), about /.exec(offered[0]!)!;
  const wanted = offered.filter((text) => text.includes(` at ${station}, `)).at(-1)!;
  const [, track] = /^(.+) at /.exec(wanted.trim())!;

  await keyboard.choose(tracks, wanted.trim());
  await into.getByRole('button', { name: /^Show the effect of sending 64 into / }).press('Enter');
  await into.getByText(/^Of \d+ arrivals? until/).waitFor();
  const wishes = async () => (await now()).wishes?.tracks ?? [];
  expect(await wishes()).toEqual([]);
  await into.getByRole('button', { name: 'Choose after all' }).press('Enter');
  const wished = panel.getByRole('list', { name: 'What is wished of 64' });
  await wished.getByText(`Goes into ${track} at ${station}.`).waitFor();
  expect(await wishes()).toEqual([{ service: next!.service, call: next!.call, track }]);

  await setPace(address, 30);
  await expect.poll(async () => (await now()).where).toBe(`${station} ${track}`);
});
