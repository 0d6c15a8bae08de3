import { expect, test } from 'vitest';
import { beginSession, setPace } from '../support/drive-session.mjs';
import { exampleRailway, type Railway } from '../support/railways.js';
import type { BoardPage } from './support/board-page.js';
import {
  clickIfThere,
  expectAllStanding,
  expectPaceTaken,
  expectPhase,
  expectPhaseAfter,
  settleLineUp,
} from './support/expectations.js';
import { roomForTwo, shortAndUnseen } from './support/hard-railway.js';
import { useFaults, type FaultFile } from './support/scripted-faults.js';
import { useStage } from './support/stage.js';

// Train 3 stands in W1 at Lowmarsh, 1047 in E1 at Highmarsh; both decoders answer. They change places over the loop.
const faults: FaultFile = useFaults();
const stage = useStage({ BLOCKBELL_FAULTS: faults.path, BLOCKBELL_EXAMPLE: 'passing-loop' });

/** Begins a session in which this goes wrong, and raises power. */
async function lineUp(railway: Railway, ...script: readonly object[]): Promise<BoardPage> {
  faults.script(...script);
  await beginSession(stage.server.address, { files: railway });
  const board = await stage.board();
  await expectPhase(board, 'set up');
  await board.control('Power up').click();
  await expectPhase(board, 'line-up');
  return board;
}

const passingLoop = (): Railway => exampleRailway('passing-loop');

/** Presses Start until trains may run, then lets time run fast. */
async function start(board: BoardPage): Promise<void> {
  await expectPhaseAfter(board.control('Start'), board, 'running');
  await expectPaceTaken(board, 60);
}

/** After a power cut: power is raised, every place confirmed, and the session goes on. */
async function comeBack(board: BoardPage): Promise<void> {
  await expectAllStanding(board);
  await expectPhaseAfter(board.control('Power up'), board, 'line-up');
  await settleLineUp(board);
  await start(board);
}

/** Waits until the log tells of an arrival, and lets go on whatever was stopped meanwhile. */
async function expectArrival(board: BoardPage, words: string): Promise<void> {
  const release = board.page.getByRole('button', { name: 'Release: it may go on' });
  const halted = board.trainList.getByRole('button', { name: /was stopped|stopped:/ });
  await expect
    .poll(
      async () => {
        if (!(await clickIfThere(release))) await clickIfThere(halted);
        return board.log.textContent();
      },
      { timeout: 60_000 },
    )
    .toContain(words);
}

/** A train's row in the line-up. */
const rowOf = (board: BoardPage, label: string) =>
  board.lineUp.getByRole('listitem').filter({ hasText: new RegExp(`^\\s*${label}\\b`) });

test('a train that contact is lost under is not seen; confirmed, it runs its service', async () => {
  const lost = ['W1.2', 'W1.3'].map((section) => ({
    kind: 'dropout',
    at: 0,
    duration: 400_000,
    section,
  }));
  const board = await lineUp(passingLoop(), ...lost);
  await expect.poll(() => rowOf(board, '3').textContent()).toContain('not seen');
  await settleLineUp(board);
  await start(board);
  await expectArrival(board, '3 arrived at Highmarsh.');
});

test('a misread decoder is asked about; the person’s word counts, and the service runs', async () => {
  const board = await lineUp(
    passingLoop(),
    ...['W1.2', 'W1.3'].map((section) => ({
      kind: 'misread',
      at: 0,
      duration: 400_000,
      section,
      as: { kind: 'short', number: 99 },
    })),
  );
  await expect.poll(() => rowOf(board, '3').textContent()).toMatch(/elsewhere\?|asks you/);
  await settleLineUp(board);
  await start(board);
  await expectArrival(board, '3 arrived at Highmarsh.');
});

test('a train put elsewhere by hand is said to stand there, and goes on from there', async () => {
  const board = await lineUp(passingLoop(), {
    kind: 'hand-moved',
    at: 0,
    train: 'T3',
    to: { block: 'L1', towards: 'b' },
  });
  await expect.poll(() => rowOf(board, '3').textContent()).toContain('not seen');
  const stranger = board.lineUp.getByRole('button', { name: 'It is 3' });
  await stranger.click();
  await stranger.waitFor({ state: 'detached' });
  await rowOf(board, '3').getByText('confirmed', { exact: true }).waitFor();
  await settleLineUp(board);
  await start(board);
  await expectArrival(board, '3 arrived at Highmarsh.');
});

test('of two trains in one block the second is not believed there; put back, both run', async () => {
  const board = await lineUp(
    roomForTwo(),
    { kind: 'hand-moved', at: 0, train: 'T47', to: { block: 'W1', towards: 'a' } },
    { kind: 'hand-moved', at: 240_000, train: 'T47', to: { block: 'E1', towards: 'a' } },
  );
  await expect.poll(() => rowOf(board, '1047').textContent()).toContain('not seen');
  await board.lineUp.getByRole('button', { name: '1047 stands elsewhere' }).click();
  const where = board.lineUp.getByRole('combobox', { name: 'Where 1047 stands' });
  const [inW1] = await where.locator('option', { hasText: 'Lowmarsh' }).allTextContents();
  await where.selectOption(inW1!);
  await board.lineUp.getByRole('button', { name: '1047 stands there' }).click();
  await expect.poll(() => board.notice.textContent()).toContain('is held for 3');
  await setPace(stage.server.address, 60);
  await expect.poll(() => rowOf(board, '1047').textContent()).not.toContain('not seen');
  await settleLineUp(board);
  await start(board);
  await expectArrival(board, '1047 arrived at Lowmarsh.');
});

test('a train hung on behind another is not seen where it stood; taken off and put back, both run', async () => {
  const board = await lineUp(
    roomForTwo(),
    { kind: 'coupled', at: 0, train: 'T3', other: 'T47' },
    { kind: 'hand-moved', at: 240_000, train: 'T47', to: { block: 'E1', towards: 'a' } },
  );
  await expect.poll(() => rowOf(board, '1047').textContent()).toContain('not seen');
  const start = board.control('Start');
  await expect.poll(() => start.getAttribute('aria-disabled')).toBe('true');
  await setPace(stage.server.address, 60);
  await expect.poll(() => rowOf(board, '1047').textContent()).not.toContain('not seen');
  await settleLineUp(board);
  await expectPhaseAfter(start, board, 'running');
  await expectPaceTaken(board, 60);
  await expectArrival(board, '3 arrived at Highmarsh.');
  await expectArrival(board, '1047 arrived at Lowmarsh.');
});

test('cars that came off are told of; lifted off, the next train arrives where they lay', async () => {
  const board = await lineUp(
    passingLoop(),
    { kind: 'lost-cars', at: 0, train: 'T3', length: 230 },
    { kind: 'cars-lifted', at: 600_000, train: 'T3' },
  );
  await settleLineUp(board);
  await start(board);
  await expect
    .poll(() => board.alarms.textContent())
    .toMatch(/Section W1\.\d stays occupied though 3 has passed it whole/);
  await expectArrival(board, '1047 arrived at Lowmarsh.');
});

test('a feedback bus that falls silent cuts power; heard again, all is confirmed and goes on', async () => {
  const board = await lineUp(passingLoop(), {
    kind: 'bus-silence',
    at: 120_000,
    duration: 60_000,
    bus: 'main',
  });
  await settleLineUp(board);
  await start(board);
  await expectPhase(board, 'power cut');
  await expect.poll(() => board.log.textContent()).toContain('Bus main is silent');
  await comeBack(board);
  await expectArrival(board, '3 arrived at Highmarsh.');
});

test('power cut with a train over a short block and unseen track: confirmed, it runs on', async () => {
  const board = await lineUp(shortAndUnseen());
  await settleLineUp(board);
  await start(board);
  await expect.poll(() => board.log.textContent()).toContain('3 leaves Lowmarsh');
  await expectPaceTaken(board, 5);
  await expect.poll(() => board.trainList.textContent()).toContain('L2');
  await board.cutPower.click();
  await comeBack(board);
  await expectArrival(board, '3 arrived at Highmarsh.');
});
