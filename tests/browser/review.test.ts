import { recordingIndex, type RecordingIndex } from '@blockbell/contract';
import type { Locator, Page } from 'playwright-core';
import { beforeAll, expect, test } from 'vitest';
import {
  beginSession,
  command,
  look,
  runSession,
  setPace,
  until,
} from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { boxesOf, overlaps } from './support/boxes.js';
import { expectAllStanding, expectPhase } from './support/expectations.js';
import { expectInOrder, inEachView } from './support/in-order.js';
import { useFault } from './support/scripted-faults.js';
import { useStage, VIEWS } from './support/stage.js';

// A train that stalls, so that there are alarms to go to.
const faults = useFault({ kind: 'stall', at: 240_000, duration: 600_000, train: 'T101' });
const stage = useStage({ BLOCKBELL_FAULTS: faults }, /status of 404/);

/** What a picture shows of trains and their places. */
interface Shown {
  readonly trains: readonly string[];
  readonly list: string | null;
  readonly clock: string | null;
}

let noted: Shown;
/** Physical ms at which the trains stood as noted. */
let notedAt = 0;
let session = 0;

/** The clock of the picture: that of the moment looked back on, or else the live one. */
async function clockOf(board: BoardPage): Promise<Locator> {
  const then = board.page.getByLabel('Fast clock then');
  return (await then.count()) > 0 ? then : board.clock;
}

const shownBy = async (board: BoardPage): Promise<Shown> => ({
  trains: (await board.trainWords()).toSorted(),
  list: await board.trainList.textContent(),
  clock: await (await clockOf(board)).textContent(),
});

/** The demo runs until an alarm, is stopped with all trains at a stand – noted –, goes on for a while, and is ended. */
beforeAll(async () => {
  const { address } = stage.server;
  await beginSession(address);
  await runSession(address, 60);
  await until('there is an alarm', async () => (await look(address)).rows.alarms!.length > 0);
  await command(address, { kind: 'stop-all' });
  await setPace(address, 5);
  session = Number((await look(address)).rows.session!.id.replace('session-', ''));
});

const review = {
  open: (page: Page) => page.goto(`${stage.server.address}#/sessions/${session}`),
  slider: (page: Page) => page.getByRole('slider', { name: 'Moment of the session' }),
  position: async (page: Page): Promise<number> => Number(await review.slider(page).inputValue()),
};

/** What is recorded of the session by now. */
async function recorded(): Promise<RecordingIndex> {
  const answer = await fetch(new URL(`api/sessions/${session}/recording`, stage.server.address));
  return recordingIndex.parse(await answer.json());
}

/** Puts the slider at physical ms of the session's one opening. */
async function slideTo(page: Page, at: number): Promise<void> {
  const [span] = (await recorded()).spans;
  await review.slider(page).fill(String(Math.floor(at - span!.from)));
}

test('what the live board shows is noted; then the session goes on', async () => {
  const { address } = stage.server;
  const board = await stage.board();
  await expectPhase(board, 'all stopped');
  await expectAllStanding(board);
  await board.drawOn();
  noted = await shownBy(board);
  notedAt = (await look(address)).now;
  expect(noted.trains.length).toBeGreaterThan(8);
  // Recorded, before anything else happens.
  await until('the clock has gone on', async () => (await look(address)).now > notedAt + 2_000);
  const { rows } = await look(address);
  for (const { train, activity } of rows.trains!)
    if (activity === 'halted')
      await command(address, { kind: 'release-train', train }).catch(() => {});
  await setPace(address, 60);
  await until('the session resumes', () =>
    command(address, { kind: 'resume' }).then(
      () => true,
      () => false,
    ),
  );
  await until('trains have run', async () => (await look(address)).now > notedAt + 300_000);
  await command(address, { kind: 'cut-power' });
  await setPace(address, 1);
  await until('all is written', async () => {
    const { now, revision } = await look(address);
    const { spans } = await recorded();
    return revision > 0 && spans.some(({ until: end }) => end > now - 60_000);
  });
});

test('found by mouse in the list, slid back: the places are those the live board had shown', async () => {
  const board = await stage.board();
  const { page } = board;
  await page.getByRole('link', { name: 'Sessions' }).click();
  await page.getByRole('region', { name: 'Stored sessions' }).getByRole('link').first().click();
  await page.getByText('Looking back – nothing here moves a train').waitFor();
  await review.slider(page).waitFor();
  await slideTo(page, notedAt);
  await expect.poll(() => shownBy(board)).toEqual(noted);

  // Played on, it leaves that picture; nothing of it reaches the session that runs.
  const before = await look(stage.server.address);
  await page.getByRole('combobox', { name: 'Speed of the playback' }).selectOption('60');
  const from = await review.position(page);
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await expect.poll(() => review.position(page)).toBeGreaterThan(from + 30_000);
  await expect.poll(() => board.trainWords()).not.toEqual(noted.trains);
  await page.getByRole('button', { name: 'Pause', exact: true }).click();
  const paused = await review.position(page);
  await board.drawOn();
  expect(await review.position(page)).toBe(paused);
  expect((await look(stage.server.address)).rows.trains).toEqual(before.rows.trains);

  await page.getByRole('link', { name: 'Back to the live board' }).click();
  await expectPhase(board, 'power cut');
  expect(await page.getByText('Looking back').count()).toBe(0);
});

test('by keyboard only: to the session, along its time, from alarm to alarm, and back', async () => {
  const board = await stage.board();
  const { page } = board;
  await board.header.waitFor();
  await page.getByRole('link', { name: 'Sessions' }).focus();
  await page.keyboard.press('Enter');
  const first = page.getByRole('region', { name: 'Stored sessions' }).getByRole('link').first();
  await first.waitFor();
  await first.focus();
  await page.keyboard.press('Enter');
  await review.slider(page).waitFor();
  await review.slider(page).focus();
  await page.keyboard.press('End');
  const length = Number(await review.slider(page).getAttribute('max'));
  await expect.poll(() => review.position(page)).toBe(length);
  await page.keyboard.press('ArrowLeft');
  await expect.poll(() => review.position(page)).toBe(length - 5_000);
  await page.keyboard.press('Shift+ArrowLeft');
  await expect.poll(() => review.position(page)).toBe(length - 65_000);
  await page.keyboard.press('Home');
  await expect.poll(() => review.position(page)).toBe(0);

  await page.keyboard.press('Space');
  await page.getByRole('button', { name: 'Pause', exact: true }).waitFor();
  await expect.poll(() => review.position(page)).toBeGreaterThan(1_000);
  await page.keyboard.press('Space');
  await page.getByRole('button', { name: 'Play', exact: true }).waitFor();

  // From what one person decided to what came next.
  await review.slider(page).press('Home');
  const titles = await page.locator('.marks [title*="Robin"]').count();
  expect(titles).toBeGreaterThan(3);
  await page.getByRole('button', { name: 'Next decision' }).focus();
  for (let step = 0; step < 3; step += 1) await page.keyboard.press('Enter');
  await expect.poll(() => review.position(page)).toBeGreaterThan(1_000);
  await page.getByRole('button', { name: 'Previous decision' }).focus();
  const later = await review.position(page);
  await page.keyboard.press('Enter');
  await expect.poll(() => review.position(page)).toBeLessThan(later);

  // From the start to the first alarm: the decisions may have come after it.
  await review.slider(page).press('Home');
  await page.getByRole('button', { name: 'Next alarm' }).focus();
  await page.keyboard.press('Enter');
  await expect.poll(() => review.position(page)).toBeGreaterThan(0);
  await expect.poll(() => board.alarms.getByRole('listitem').count()).toBeGreaterThan(0);
  const alarm = await review.position(page);
  await page.keyboard.press('ArrowLeft');
  await expect.poll(() => review.position(page)).toBe(alarm - 5_000);
  await expect.poll(() => board.alarms.textContent()).toContain('Nothing is out of order');
  expect(await review.slider(page).getAttribute('aria-valuetext')).toMatch(
    /^\d\d:\d\d on the fast clock, .* of .*$/,
  );
  await page.getByRole('button', { name: 'Previous alarm' }).focus();
  await page.keyboard.press('Enter');
  await board.notice.waitFor();
  expect(await board.notice.textContent()).toContain('There is no alarm before this moment.');

  await page.getByRole('link', { name: 'Back to the live board' }).focus();
  await page.keyboard.press('Enter');
  await expectPhase(board, 'power cut');
});

test('nothing that is looked back on can be commanded; an alarm of the live session is told of and leads there', async () => {
  const board = await stage.board();
  const { page } = board;
  await review.open(page);
  await review.slider(page).waitFor();
  await review.slider(page).press('End');
  const alert = page.getByRole('alert').filter({ hasText: 'Alarm in the session that runs' });
  await alert.waitFor();
  await board.trainList.getByRole('button').first().click();
  await page.getByRole('region', { name: 'Chosen train' }).waitFor();
  expect(
    await page.getByRole('button', { name: /Hold here|Take in hand|Acknowledge/ }).count(),
  ).toBe(0);
  await alert.getByRole('link', { name: 'Go to the live board' }).click();
  await expect
    .poll(() => board.alarms.getByRole('button', { name: /^Acknowledge/ }).count())
    .toBeGreaterThan(0);
});

test('the summary tells of services, alarms and who tells badly where trains are, and is saved', async () => {
  const { page } = await stage.board();
  await review.open(page);
  await page.getByText('Summary: services, alarms, locomotives and detectors').click();
  const summary = page.getByRole('group', { name: 'Summary of the session' });
  const services = summary.getByRole('table', { name: 'Services' });
  await services.waitFor();
  expect(await services.getByRole('row').count()).toBeGreaterThan(50);
  // The train that stalls.
  expect(await summary.getByRole('listitem').first().textContent()).toMatch(
    /^\d+ × \S+; the first: \S/,
  );
  const saved = page.waitForEvent('download');
  await summary.getByRole('button', { name: 'Save locomotives as CSV' }).click();
  expect((await saved).suggestedFilename()).toBe(`session-${session}-locomotives.csv`);
});

test('a session of which nothing is stored says so', async () => {
  const board = await stage.board();
  await board.page.goto(`${stage.server.address}#/sessions/999`);
  const alert = board.page.getByRole('alert').filter({ hasText: 'No stored session' });
  await expect.poll(() => alert.textContent()).toContain('/api/sessions lists those there are');
});

test('list and review are in order in light and dark, at each size', async () => {
  const { page, labels } = await stage.board();
  await page.goto(`${stage.server.address}#/sessions`);
  await page.getByRole('table').waitFor();
  await inEachView(page, VIEWS, (view) => expectInOrder(page, view));

  await review.open(page);
  await page.getByRole('button', { name: 'Next alarm' }).click();
  await expect.poll(() => labels.count()).toBeGreaterThan(0);
  await inEachView(page, VIEWS, async (view) => {
    await expectInOrder(page, view);
    const controls = await boxesOf(
      page.getByRole('group', { name: 'Playback' }).locator('button, select, input, p'),
    );
    expect(controls.length).toBeGreaterThan(5);
    expect(overlaps(controls)).toEqual([]);
  });
});
