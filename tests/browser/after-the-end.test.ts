import { compileWorld } from '@blockbell/railway';
import { expect, test } from 'vitest';
import {
  beginSession,
  command,
  look,
  runSession,
  setPace,
  until,
} from '../support/drive-session.mjs';
import { expectPhase } from './support/expectations.js';
import { useStage } from './support/stage.js';

const stage = useStage();

/** The small example comes to its end at once: all its trains stand at a booked place. */
async function endedSession(): Promise<number> {
  const { address } = stage.server;
  await beginSession(address, { example: 'passing-loop' });
  await runSession(address, 60);
  await command(address, { kind: 'end-session' });
  await until('it has ended', async () => (await look(address)).rows.session?.phase === 'ended');
  await until('the line-up is saved', async () =>
    (await look(address)).rows.log!.some(({ text }) => text.includes('the next line-up')),
  );
  return Number((await look(address)).rows.session!.id.replace('session-', ''));
}

test('ending a session is asked about first, and closes the menu', async () => {
  const { address } = stage.server;
  await beginSession(address, { example: 'passing-loop' });
  await runSession(address, 60);
  const board = await stage.board();
  const { page } = board;
  const menu = page.getByRole('group', { name: 'Session and display' });
  await page.getByRole('button', { name: 'Session and display' }).press('Enter');
  await menu.getByRole('button', { name: 'End session' }).press('Enter');
  await menu.getByText("It can't be taken back").waitFor();
  expect((await look(address)).rows.session?.phase).toBe('running');
  await menu.getByRole('button', { name: 'Yes, end it' }).press('Enter');
  await expectPhase(board, 'ended');
  await menu.waitFor({ state: 'hidden' });
});

test('an ended session offers to look back on it', async () => {
  const session = await endedSession();
  const board = await stage.board();
  await expectPhase(board, 'ended');
  await board.page.getByRole('link', { name: 'Look back on this session' }).click();
  await board.page.getByRole('slider', { name: 'Moment of the session' }).waitFor();
  expect(new URL(board.page.url()).hash).toBe(`#/sessions/${session}`);
  expect(await board.page.getByLabel('Report of the session').textContent()).toMatch(
    /Services run\s*\d+ of \d+/,
  );
});

test.each(['Begin again from here', 'Begin again as it began'])(
  '%s: the next session stands before its line-up, on the same railway',
  async (name) => {
    const session = await endedSession();
    const before = (await look(stage.server.address)).rows.trains!;
    const board = await stage.board();
    await expectPhase(board, 'ended');
    await board.page.getByRole('button', { name }).press('Enter');
    await expectPhase(board, 'set up');
    const { rows } = await look(stage.server.address);
    expect(rows.session?.id).toBe(`session-${session + 1}`);
    expect(rows.trains).toHaveLength(before.length);
    if (name === 'Begin again from here')
      expect(rows.trains!.map(({ where }) => where)).toEqual(before.map(({ where }) => where));
    await board.lineUp.waitFor();
  },
);

/** A session whose two trains have done all their work and stand where the other began. */
async function exchangedSession(): Promise<void> {
  const { address } = stage.server;
  await beginSession(address, { example: 'passing-loop' });
  await runSession(address, 1);
  const files = await (await fetch(new URL('api/session/files', address))).json();
  const { workings } = compileWorld(files.layout, files.stock, files.timetable).timetable;
  for (const [train, working] of workings.entries()) {
    const [service, through] = [working!.services[1]!, working!.services.at(-1)!];
    await command(address, { kind: 'cancel-services', train, service, through });
  }
  await setPace(address, 60);
}

test('trains are brought back to where they began: planned, read and carried out by keyboard', async () => {
  await exchangedSession();
  const board = await stage.board();
  const bar = board.page.getByRole('region', { name: 'Return to start' });
  await bar.getByRole('button', { name: 'Plan', exact: true }).press('Enter');
  const moves = bar.getByRole('group', { name: 'Moves and what is left' }).getByRole('listitem');
  await expect.poll(() => moves.count()).toBe(3);
  await bar.getByRole('button', { name: 'Carry out' }).press('Enter');
  const stages = (): Promise<string[]> => moves.locator('strong').allTextContents();
  await expect.poll(stages, { timeout: 30_000 }).toEqual(['made', 'made', 'made']);
  await bar.getByRole('button', { name: 'Plan again' }).press('Enter');
  await expect
    .poll(() => bar.getByRole('status').textContent())
    .toMatch(/stand.* where the session began/);
});
