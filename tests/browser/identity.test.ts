import { expect, test } from 'vitest';
import { askLineUp, confirmAndStart, look, setPace } from '../support/drive-session.mjs';
import { expectMoved } from './support/expectations.js';
import { useFault } from './support/scripted-faults.js';
import { useStage } from './support/stage.js';

// A detector next to the first train's track sticks from the beginning, and stays so.
const faults = useFault({
  kind: 'stuck-detector',
  at: 0,
  duration: null,
  section: 'L1.1',
});
const stage = useStage({ BLOCKBELL_FAULTS: faults, BLOCKBELL_EXAMPLE: 'passing-loop' });

const strangers = async () => (await look(stage.server.address)).rows.strangers ?? [];

test('a ghost is shown with its evidence and candidates; its reset asks first, is logged, and a train arrives over it', async () => {
  await askLineUp(stage.server.address);
  await expect.poll(strangers).toHaveLength(1);
  const board = await stage.board();
  await board.lineUp
    .getByText('Section L1.1 is occupied, and no train is expected there.')
    .waitFor();
  const candidates = board.lineUp.getByRole('list', { name: /^What may stand in / });
  const listed = await candidates.getByRole('listitem').allTextContents();
  expect(listed[0]).toMatch(
    /^It is \S+\s+it stands next to it|^It is \S+\s+its place is not confirmed/,
  );

  const reset = board.lineUp.getByRole('button', { name: /^Reset / });
  await reset.click();
  const caution = board.lineUp.getByRole('group', { name: /^Reset / });
  expect(await caution.textContent()).toMatch(/Look at the whole of .*restricted speed/s);
  await caution.getByRole('button', { name: 'Not now' }).click();
  expect(await strangers()).toHaveLength(1);

  await reset.click();
  await caution.getByRole('button', { name: /^I looked: .* is clear$/ }).click();
  await expect.poll(strangers).toEqual([]);
  await expect
    .poll(() => board.log.textContent())
    .toMatch(/Reset 1: dispatcher looked at section L1\.1: occupied before, clear after\./);

  // What was reset is told with the track, and the session runs on over it.
  const find = board.page.getByPlaceholder('Find on the track');
  await find.fill('L1');
  await find.press('Enter');
  const track = board.page.getByRole('region', { name: 'Chosen track' });
  await track.getByText(/found it clear \(reset 1\); its detector had said occupied\./).waitFor();
  const places = await board.places();
  await confirmAndStart(stage.server.address, 20);
  await expectMoved(board, places, 1);
  await setPace(stage.server.address, 60);
  await expect.poll(() => board.log.textContent()).toContain('3 arrived at Highmarsh.');
});
