import type { Layout } from '@blockbell/railway';
import type { TrainView } from '@blockbell/contract';
import { beforeEach, expect, test } from 'vitest';
import { beginSession, command, look, runSession } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { expectAllStanding } from './support/expectations.js';
import { elementsOf, filesOf, freeWays } from './support/session-files.js';
import { useStage } from './support/stage.js';

const stage = useStage();

beforeEach(async () => {
  await beginSession(stage.server.address);
  await runSession(stage.server.address, 20);
});

test('two dispatchers want one block for two trains: one has it, the other reads who was first', async () => {
  await command(stage.server.address, { kind: 'hold-departures', hold: true });
  const boards = await Promise.all([boardOf('Ada'), boardOf('Ben')]);
  await Promise.all(boards.map(expectAllStanding));
  const { layout, labels } = await filesOf(stage.server.address);
  const { block, trains } = contested(layout, (await look(stage.server.address)).rows.trains!);
  const id = layout.elements[block]!.id;
  const buttons = await Promise.all(
    boards.map((board, index) => askRoute(board, labels[trains[index]!]!, id)),
  );

  await Promise.all(buttons.map((button) => button.click()));
  const notices = boards.map(({ notice }) => notice);
  await expect
    .poll(async () => (await Promise.all(notices.map((notice) => notice.count()))).sort())
    .toEqual([0, 1]);
  const loser = (await notices[0]!.count()) === 1 ? 0 : 1;
  const winner = 1 - loser;
  expect(await notices[loser]!.textContent()).toContain(['Ada', 'Ben'][winner]);
  const holders = async () => {
    const { rows } = await look(stage.server.address);
    return trains.filter((train) => holdsBlock(rows.trains![train]!, block));
  };
  await expect.poll(holders).toEqual([trains[winner]]);
});

async function boardOf(name: string): Promise<BoardPage> {
  const board = await stage.board();
  const field = board.page.getByRole('textbox', { name: /^Who is at the board/ });
  await field.fill(name);
  await board.page.getByRole('button', { name: 'Use this name' }).click();
  return board;
}

/** A free block that two standing trains could each be sent to next. */
function contested(
  layout: Layout,
  rows: readonly TrainView[],
): { readonly block: number; readonly trains: readonly number[] } {
  const ways = freeWays(layout, rows);
  for (const [at, { train, block }] of ways.entries()) {
    const rival = ways.slice(0, at).find((way) => way.block === block && way.train !== train);
    if (rival) return { block, trains: [rival.train, train] };
  }
  throw new Error('no two trains could be sent to one block');
}

/** Has a route to a block written down for a train; the button that sets it. */
async function askRoute(board: BoardPage, label: string, block: string) {
  const find = board.page.getByRole('combobox', { name: /^Find a train, block or turnout/ });
  await find.fill(label);
  await find.press('Enter');
  const chosen = board.page.getByRole('region', { name: 'Chosen train' });
  await chosen.getByRole('button', { name: 'Set a route' }).click();
  await chosen.getByRole('combobox', { name: /^Block where the way of / }).fill(block);
  return chosen.getByRole('button', { name: 'Set it' });
}

const holdsBlock = (row: TrainView, block: number): boolean => elementsOf(row).includes(block);
