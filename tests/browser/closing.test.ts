import { beforeEach, expect, test } from 'vitest';
import { beginSession, command, look, runSession } from '../support/drive-session.mjs';
import { expectPhase } from './support/expectations.js';
import type { BoardPage } from './support/board-page.js';
import { TABLET, useStage } from './support/stage.js';

const stage = useStage();

beforeEach(async () => {
  await beginSession(stage.server.address, { example: 'passing-loop' });
});

/** Finds a track by its name, as somebody without a mouse does. */
async function choose(board: BoardPage, name: string): Promise<void> {
  const search = board.page.getByRole('combobox', { name: /^Find a train, block or turnout/ });
  await search.fill(name);
  await search.press('Enter');
  await board.page.getByRole('region', { name: 'Chosen track' }).waitFor();
}

const possessionOf = async (id: number) => {
  const { rows } = await look(stage.server.address);
  return rows.elements?.find(({ element }) => element === id)?.possession;
};

test('a block is closed with a reason, marked on the diagram by a cross, and reopened', async () => {
  const board = await stage.board({ viewport: TABLET });
  await runSession(stage.server.address, 1);
  await expectPhase(board, 'running');
  await choose(board, 'P2');
  const details = board.page.getByRole('region', { name: 'Chosen track' });
  await details.getByRole('button', { name: 'Close P2' }).press('Enter');
  await board.notice.waitFor();
  expect(await board.notice.textContent()).toContain('Say first what it is closed for');

  await details.getByLabel('Close for work').fill('loose rail joint');
  await details.getByRole('button', { name: 'Close P2' }).click();
  await board.diagram.getByRole('img', { name: 'P2 closed: loose rail joint' }).waitFor();
  await expect.poll(() => details.textContent()).toContain('loose rail joint; work may be done');
  await expect.poll(() => board.log.textContent()).toContain('close track: P2 (loose rail joint)');

  await details.getByRole('button', { name: 'Reopen P2' }).click();
  await board.diagram.getByRole('img', { name: /^P2 closed/ }).waitFor({ state: 'detached' });
  await details.getByRole('button', { name: 'Close P2' }).waitFor();
});

test('a turnout is closed from the keyboard; other viewers see it, and it outlasts a power cut', async () => {
  const board = await stage.board();
  const other = await stage.board();
  await runSession(stage.server.address, 1);
  await choose(board, 'T1');
  const details = board.page.getByRole('region', { name: 'Chosen track' });
  await details.getByLabel('Close for work').fill('point motor');
  await details.getByRole('button', { name: 'Close T1' }).press('Enter');
  await other.diagram.getByRole('img', { name: /^T1 (to be )?closed.*: point motor$/ }).waitFor();
  await command(stage.server.address, { kind: 'cut-power' });
  await expectPhase(board, 'power');
  await other.page.reload();
  await other.diagram.getByRole('img', { name: /^T1 (to be )?closed.*: point motor$/ }).waitFor();
  const { rows } = await look(stage.server.address);
  const closed = rows.elements?.filter(({ possession }) => possession !== null) ?? [];
  expect(closed).toHaveLength(1);
  expect(await possessionOf(closed[0]!.element)).toBe('point motor');
});
