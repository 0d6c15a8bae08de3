import { beforeEach, expect, test } from 'vitest';
import { beginSession, runSession } from '../support/drive-session.mjs';
import { expectPhase } from './support/expectations.js';
import { useStage } from './support/stage.js';

const stage = useStage({ BLOCKBELL_PLANNING: 'on' });

beforeEach(async () => {
  await beginSession(stage.server.address);
  await runSession(stage.server.address, 5);
});

test('the list and the graph show when trains are expected, and that a plan says so', async () => {
  const board = await stage.board();
  await expectPhase(board, 'running');
  await expect
    .poll(() => board.trainList.textContent())
    .toMatch(/exp\. \d\d:\d\d\s+plan\s*expected at \d\d:\d\d, .*, by the plan/);
  const graph = board.page.getByRole('region', { name: 'Time–distance graph' });
  await expect.poll(() => graph.locator('circle').count()).toBeGreaterThan(5);
  await board.trainList
    .getByRole('button')
    .filter({ hasText: 'by the plan' })
    .first()
    .press('Enter');
  await expect
    .poll(() => board.page.getByRole('region', { name: 'Chosen train' }).textContent())
    .toMatch(/Expected by the plan: .+ (arrives|leaves) \d\d:\d\d/);
});
