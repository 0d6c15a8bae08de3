import { afterEach, beforeEach, expect, test } from 'vitest';
import { beginSession, runSession } from '../support/drive-session.mjs';
import { CuttableLine } from './support/cuttable-line.js';
import {
  expectAllStanding,
  expectMoved,
  expectPaceTaken,
  expectPhase,
  expectPhaseAfter,
  settleLineUp,
} from './support/expectations.js';
import { useStage } from './support/stage.js';

// What the browser itself says of a server that doesn't answer.
const stage = useStage({}, /ERR_CONNECTION|ERR_EMPTY_RESPONSE|WebSocket connection to/);
let line: CuttableLine;

beforeEach(async () => {
  await beginSession(stage.server.address);
  await runSession(stage.server.address, 10);
  line = new CuttableLine(stage.server.address);
  await line.join();
});
afterEach(() => line.cut());

test('a cut connection: the picture is called stale and stands still; mended, it is live again', async () => {
  const board = await stage.board({}, line.address);
  await expectPhase(board, 'running');
  await expectMoved(board, await board.places(), 1);
  await line.cut();

  const stale = board.notes.getByRole('alert');
  await stale.waitFor();
  expect(await stale.textContent()).toMatch(/Picture is stale since \d\d:\d\d:\d\d\./);
  expect(await stale.textContent()).toContain('use the hand-operated power cut');
  await expect.poll(() => board.header.textContent()).toContain('connection lost');
  const clock = await board.clock.textContent();
  const places = await board.places();
  await board.drawOn();
  expect(await board.places()).toEqual(places);
  expect(await board.clock.textContent()).toBe(clock);

  await board.cutPower.click();
  await board.notice.waitFor();
  expect(await board.notice.textContent()).toContain(
    'The server cannot be reached; nothing was sent. Use the hand-operated power cut',
  );

  await line.join();
  await stale.waitFor({ state: 'detached' });
  // What could not be sent is not sent later.
  await expectPhase(board, 'running');
  await expect.poll(() => board.header.textContent()).not.toContain('connection lost');
  await expect.poll(() => board.clock.textContent()).not.toBe(clock);
  await expectMoved(board, places, 1);
});

test('files that come late, of a session put away meanwhile, are not shown under the session that runs', async () => {
  const board = await stage.board();
  const shown = board.page.getByRole('region', { name: 'Track', exact: true }).getByRole('heading');
  await shown.filter({ hasText: 'Vellin Valley Railway' }).waitFor();
  let letGo = (): void => {};
  const held = new Promise<void>((resolve) => (letGo = resolve));
  let asked = 0;
  await board.page.route('**/api/session/files', async (route) => {
    const answer = await route.fetch();
    asked += 1;
    if (asked === 1) await held;
    await route.fulfill({ response: answer });
  });
  await beginSession(stage.server.address, { example: 'passing-loop' });
  await expect.poll(() => asked).toBe(1);
  await beginSession(stage.server.address);
  await expect.poll(() => asked).toBeGreaterThan(1);
  await shown.filter({ hasText: 'Vellin Valley Railway' }).waitFor();
  const late = board.page.waitForResponse('**/api/session/files');
  letGo();
  await (await late).finished();
  await board.drawOn();
  expect(await shown.textContent()).toBe('Vellin Valley Railway');
  expect(await board.labels.count()).toBeGreaterThan(0);
});

test('a server killed and started again: the session is held, every place is confirmed, then trains go on', async () => {
  const board = await stage.board();
  await expectPhase(board, 'running');
  await expect.poll(() => board.moving()).not.toEqual([]);
  await stage.server.kill();
  await board.notes.getByRole('alert').waitFor();
  await stage.server.start();
  await board.notes.getByRole('alert').waitFor({ state: 'detached' });
  await expectPhase(board, 'power cut');
  await expect
    .poll(() => board.notes.textContent())
    .toContain('the server was started again during the session');
  await expectAllStanding(board);

  await expectPaceTaken(board, 60);
  await board.control('Power up').click();
  await expectPhase(board, 'line-up');
  await settleLineUp(board);
  const places = await board.places();
  await expectPhaseAfter(board.control('Start'), board, 'running');
  await expectMoved(board, places, 1);
  await expect.poll(() => board.log.textContent()).toMatch(/ arrived at /);
});
