import { expect, test } from 'vitest';
import { beginSession, command, look, runSession, until } from '../support/drive-session.mjs';
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
