import { expect, test } from 'vitest';
import { firstCode, PASSPHRASE } from '../support/add-people.mjs';
import { expectPhase } from './support/expectations.js';
import { expectOpenToAll } from './support/in-order.js';
import { useStage } from './support/stage.js';

const stage = useStage({ BLOCKBELL_NETWORK: 'open' }, /status of (401|409)/);

test('the first builder signs up with the code that the server printed, and runs the railway', async () => {
  const board = await stage.board();
  const { page } = board;
  const form = page.getByRole('form', { name: 'First sign-up' });
  await form.waitFor();
  await expectOpenToAll(page);

  const refusal = form.getByRole('alert');
  await form.getByLabel('Code from the server').fill('AAAAA-AAAAA');
  await form.getByLabel('Name').fill('Bea');
  await form.getByLabel(/^Passphrase, /).fill(PASSPHRASE);
  await form.getByLabel('The same passphrase again').fill('another one');
  await form.getByRole('button', { name: 'Sign up' }).click();
  await expect.poll(() => refusal.textContent()).toContain('The two passphrases are not the same');
  await form.getByLabel('The same passphrase again').fill(PASSPHRASE);
  await form.getByRole('button', { name: 'Sign up' }).click();
  await expect.poll(() => refusal.textContent()).toContain('The code is not the one');

  await form.getByLabel('Code from the server').fill(await firstCode(stage.server));
  await form.getByRole('button', { name: 'Sign up' }).click();
  await expectPhase(board, 'set up');
  expect(await page.getByRole('button', { name: 'Use this name' }).count()).toBe(0);
  await board.control('Power up').click();
  await expectPhase(board, 'line-up');
  await expect.poll(() => board.log.textContent()).toContain('Bea: power up');

  const second = await stage.board();
  await second.page.getByRole('form', { name: 'Sign in' }).waitFor();
});
