import { beforeEach, expect, test } from 'vitest';
import { beginSession, runSession, setPace } from '../support/drive-session.mjs';
import {
  expectAllStanding,
  expectMoved,
  expectPaceTaken,
  expectPhase,
  expectPhaseAfter,
} from './support/expectations.js';
import { useStage } from './support/stage.js';

const stage = useStage();

beforeEach(async () => {
  await beginSession(stage.server.address);
  await runSession(stage.server.address, 20);
});

test('trains move on the diagram, the fast clock goes on, the list tells where each is', async () => {
  const board = await stage.board({ reducedMotion: 'no-preference' });
  await expectPhase(board, 'running');
  const clock = await board.clock.textContent();
  const list = await board.trainList.textContent();
  await expectMoved(board, await board.places(), 3);
  await expect.poll(() => board.clock.textContent()).not.toBe(clock);
  await expect.poll(() => board.trainList.textContent()).not.toBe(list);
});

test('the pace is set for everybody who looks on, and only when the server has accepted it', async () => {
  const board = await stage.board();
  const other = await stage.board();
  await expectPhase(other, 'running');
  await expect.poll(() => other.pace.inputValue()).toBe('20');
  await expectPaceTaken(board, 60);
  await expect.poll(() => other.pace.inputValue()).toBe('60');
  await expect
    .poll(() => other.log.textContent())
    .toContain('set the pace of the simulated time to ×60');
});

test('held departures: trains come to their stops and stay; let go, they depart', async () => {
  const board = await stage.board();
  await expectPaceTaken(board, 60);
  await board.control('Hold departures').click();
  await expectPhase(board, 'running · departures held');
  await expectAllStanding(board);
  const places = await board.places();
  const clock = await board.clock.textContent();
  await expect.poll(() => board.clock.textContent()).not.toBe(clock);
  expect(await board.places()).toEqual(places);
  await expect.poll(() => board.trainList.textContent()).toMatch(/waits: .*departures/i);
  await board.control('Let departures go').click();
  await expectMoved(board, places, 1);
});

test('paused: the clock stands and nothing departs; resumed, both go on', async () => {
  const board = await stage.board();
  await board.control('Pause').click();
  await expectPhase(board, 'paused');
  await expectAllStanding(board);
  const clock = await board.clock.textContent();
  const places = await board.places();
  await board.drawOn();
  expect(await board.clock.textContent()).toBe(clock);
  expect(await board.places()).toEqual(places);
  await board.control('Resume').click();
  await expectPhase(board, 'running');
  await expectMoved(board, places, 1);
});

test('stop all now: every train comes to a stand, and going on is refused until it has', async () => {
  const board = await stage.board();
  await expect.poll(() => board.moving()).not.toEqual([]);
  // In slow motion, so that there is time to ask too early.
  await setPace(stage.server.address, 0.1);
  await board.control('Stop all now').click();
  await expectPhase(board, 'all stopped');
  await expect
    .poll(() => board.notes.textContent())
    .toMatch(/All trains were told to stop: asked by dispatcher\. Power is on and detection live/);
  await board.control('Resume').click();
  await board.notice.waitFor();
  expect(await board.notice.textContent()).toContain(
    'Not every train is proven standing yet; wait a moment.',
  );
  await expectPhase(board, 'all stopped');

  await setPace(stage.server.address, 20);
  await expectAllStanding(board);
  const places = await board.places();
  const clock = await board.clock.textContent();
  await board.drawOn();
  expect(await board.places()).toEqual(places);
  expect(await board.clock.textContent()).toBe(clock);
  await expectPhaseAfter(board.control('Resume'), board, 'running');
  await expectMoved(board, places, 1);
});

test('loaded again, the page shows the same picture', async () => {
  const board = await stage.board();
  await board.control('Stop all now').click();
  await expectPhase(board, 'all stopped');
  await expectAllStanding(board);
  const picture = async () => ({
    trains: await board.trainWords(),
    list: await board.trainList.textContent(),
    log: await board.log.getByRole('listitem').allTextContents(),
    clock: await board.clock.textContent(),
    note: await board.notes.getByRole('status').textContent(),
    signals: await board.diagram.getByText(/^Signal at the end of/).allTextContents(),
  });
  const before = await picture();
  expect(before.signals.length).toBeGreaterThan(50);
  await board.page.reload();
  await expectPhase(board, 'all stopped');
  await expect.poll(picture).toEqual(before);
});

test('what nothing is called is refused beside the field, and the message can be closed', async () => {
  const board = await stage.board();
  const find = board.page.getByRole('combobox', { name: /^Find a train, block or turnout/ });
  await find.fill('Nowhere');
  await find.press('Enter');
  expect(await board.notice.textContent()).toContain('Nothing on this layout is called “Nowhere”.');
  await board.page.keyboard.press('Escape');
  await board.notice.waitFor({ state: 'detached' });
  await find.fill('101');
  await find.press('Enter');
  await board.page.getByRole('region', { name: 'Chosen train' }).getByText(/101/).first().waitFor();
});

test('on a tablet held across, the header takes one row, and keeps what stops trains', async () => {
  const board = await stage.board({ viewport: { width: 1024, height: 768 } });
  await expectPhase(board, 'running');
  const header = board.page.getByRole('banner');
  const parts = await header
    .locator('> :visible')
    .evaluateAll((all) => all.map((part) => part.getBoundingClientRect().bottom));
  const tallest = (await header.boundingBox())!.height;
  expect(Math.max(...parts) - Math.min(...parts)).toBeLessThan(tallest / 2);
  expect(tallest).toBeLessThan(70);
  for (const name of [/^Stop all now/, /^Cut power/])
    expect(await header.getByRole('button', { name }).isVisible()).toBe(true);
  expect(await board.clock.isVisible()).toBe(true);
});
