import { expect, test } from 'vitest';
import { runSession } from '../support/drive-session.mjs';
import { useFault } from './support/scripted-faults.js';
import { useStage } from './support/stage.js';

// The first train to depart stands as if nailed to the rails.
const faults = useFault({ kind: 'stall', at: 0, duration: null, train: 'T3' });
const stage = useStage({ BLOCKBELL_FAULTS: faults, BLOCKBELL_EXAMPLE: 'passing-loop' });

test('a stalled train raises an alarm with its mend, which is acknowledged by name', async () => {
  await runSession(stage.server.address, 60);
  const board = await stage.board();
  const acknowledge = board.alarms.getByRole('button', { name: /^Acknowledge: 3 was stopped/ });
  await acknowledge.waitFor();
  const alarm = board.alarms.getByRole('listitem').filter({ hasText: '3 was stopped' });
  expect(await alarm.textContent()).toMatch(/\d\d:\d\d\s+3 was stopped: .+\./);
  const waiting = board.header.getByRole('button', { name: /^1 alarm/ });
  await waiting.click();
  await expect
    .poll(() => board.alarms.evaluate((list) => list === document.activeElement))
    .toBe(true);

  await acknowledge.click();
  await acknowledge.waitFor({ state: 'detached' });
  await expect.poll(() => alarm.textContent()).toContain('Seen by dispatcher.');
  await board.header.getByRole('button', { name: 'No alarms' }).waitFor();

  // Another board sees it the same.
  const other = await stage.board();
  await expect
    .poll(() => other.alarms.getByRole('listitem').allTextContents())
    .toEqual([expect.stringContaining('Seen by dispatcher.')]);
});
