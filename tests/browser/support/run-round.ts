import type { Locator } from 'playwright-core';
import { expect } from 'vitest';
import { look, setPace } from '../../support/drive-session.mjs';
import type { BoardPage } from './board-page.js';
import { expectPhase, expectPhaseAfter } from './expectations.js';
import { keyboard, type Hands } from './hands.js';
import { controlsOn, rowOf } from './run-controls.js';

/** One viewer's round of the controls of the Run screen. */
export interface Round {
  readonly board: BoardPage;
  readonly hands: Hands;
  /** The server's address. */
  readonly address: string;
  readonly colorScheme: 'light' | 'dark';
  /** Every control that was there at some moment. */
  readonly seen: Set<string>;
  /** Rows of the table of controls that were driven. */
  readonly driven: Set<string>;
}

/** Notes which controls there are now. */
export async function note({ board, seen }: Round): Promise<void> {
  for (const control of await controlsOn(board.page)) seen.add(control);
}

/** Counts a row of the table as driven. */
export function did({ driven }: Round, ...controls: readonly string[]): void {
  for (const control of controls) driven.add(rowOf(control).control);
}

/** A button by its name. */
export const button = (within: Locator, name: string | RegExp): Locator =>
  within.getByRole('button', { name, exact: true }).first();

/** Presses, and waits until it is done, or refused with a reason, which is then closed. */
export async function tryIt(
  round: Round,
  control: Locator,
  isDone: () => Promise<boolean>,
): Promise<boolean> {
  const { board, hands } = round;
  await hands.press(control);
  await expect.poll(async () => (await board.notice.count()) > 0 || (await isDone())).toBe(true);
  if ((await board.notice.count()) === 0) return true;
  expect(await board.notice.first().textContent()).toMatch(/^Not done.{15,}/);
  await note(round);
  await hands.press(button(board.notice, 'Close this message'));
  await board.notice.first().waitFor({ state: 'detached' });
  did(round, 'close a message');
  return false;
}

const session = async ({ address }: Round) => (await look(address)).rows.session!;

/** Name, screens, menu and pace, before the power is up. */
export async function roundOfHeader(round: Round): Promise<void> {
  const { board, hands, colorScheme } = round;
  const { page } = board;
  await expectPhase(board, 'set up');
  await note(round);
  const name = page.getByLabel(/^Who is at the board/);
  await hands.type(name, 'Ann');
  await hands.press(button(page.locator('body'), 'Use this name'));
  await name.waitFor({ state: 'detached' });
  did(round, 'name at the board', 'use this name');

  const screens = page.getByRole('navigation', { name: 'Screens' });
  for (const screen of ['Sessions', 'Run']) {
    const link = screens.getByRole('link', { name: screen });
    await hands.press(link);
    await expect.poll(() => link.getAttribute('aria-current')).toBe('page');
  }
  did(round, 'screens');

  await hands.press(button(board.header, 'Session and display'));
  await hands.type(page.getByRole('textbox', { name: 'Your name on commands' }), 'Ben');
  await note(round);
  const ratio = page.getByRole('combobox', { name: 'Fast clock' });
  await hands.chooseLast(ratio);
  await expect.poll(async () => (await session(round)).clock.ratio).toBe(20);
  const wanted = page.getByRole('radio', { name: colorScheme === 'dark' ? 'Dark' : 'Light' });
  if (hands === keyboard) {
    // A group of radio buttons is one Tab stop, which its arrow keys go through.
    await hands.press(page.getByRole('radio', { name: 'As the system' }));
    await page.keyboard.press('ArrowDown');
    if (colorScheme === 'dark') await page.keyboard.press('ArrowDown');
  } else await hands.press(wanted);
  expect(await wanted.isChecked()).toBe(true);
  await page.keyboard.press('Escape');
  await wanted.waitFor({ state: 'hidden' });
  did(round, 'session and display', 'your name on commands', 'ratio of the fast clock');
  did(round, 'light, dark, as the system');

  await hands.chooseLast(board.pace);
  await expect.poll(() => board.pace.inputValue()).toBe('60');
  did(round, 'pace');
}

/** From power-up to a session that runs: every answer of the line-up. */
export async function roundOfLineUp(round: Round): Promise<void> {
  const { board, hands, address } = round;
  const { lineUp, page } = board;
  await hands.press(board.control('Power up'));
  await expectPhase(board, 'line-up');
  const confirm = lineUp.getByRole('button', { name: /^Confirm \S+ as listed$/ });
  const all = lineUp.getByRole('button', { name: /^Confirm all \d+ as listed$/ });
  await all.waitFor();
  await note(round);
  const label = /^Confirm (\S+) as/.exec((await confirm.first().getAttribute('aria-label'))!)![1]!;
  const elsewhere = page.getByRole('button', { name: `${label} stands elsewhere`, exact: true });
  const row = lineUp.getByRole('listitem').filter({ has: elsewhere });
  const place = (await row.locator('.place').textContent())!.trim();

  await hands.press(row.getByRole('button').first());
  const chosen = page.getByRole('region', { name: 'Chosen train' });
  await chosen.waitFor();
  await hands.press(button(chosen, 'Close'));
  await chosen.waitFor({ state: 'detached' });
  did(round, 'power up', 'train in the line-up', 'close what is chosen');

  const open = await confirm.count();
  await hands.press(confirm.first());
  await expect.poll(() => confirm.count()).toBeLessThan(open);
  await hands.press(all);
  await all.waitFor({ state: 'detached' });
  did(round, 'confirm as listed', 'confirm all as listed');

  const isAbsent = async (): Promise<boolean> =>
    (await look(address)).rows.lineUp!.some(({ status }) => status === 'absent');
  await hands.press(elsewhere);
  await note(round);
  await hands.press(button(lineUp, `${label} is not on the layout`));
  await expect.poll(isAbsent).toBe(true);
  await hands.choose(lineUp.getByRole('combobox', { name: `Where ${label} stands` }), place);
  await note(round);
  await hands.press(button(lineUp, `${label} stands there`));
  await expect.poll(isAbsent).toBe(false);
  did(round, 'not on the layout', 'stands elsewhere', 'where it stands', 'stands there');

  await expect
    .poll(async () => {
      if ((await confirm.count()) > 0) await hands.press(confirm.first());
      return confirm.count();
    })
    .toBe(0);
  // Were time to run fast from the start on, a busy machine would find the trains' work done.
  await setPace(address, 1);
  await expect
    .poll(async () => {
      const start = board.control('Start');
      if ((await start.count()) > 0) await hands.press(start);
      return board.phase.textContent();
    })
    .toContain('running');
  did(round, 'start');
}

/** Pause, holding and stopping; all go on in the end. */
export async function roundOfSession(round: Round): Promise<void> {
  const { board, hands } = round;
  const press = async (name: string, words: string): Promise<void> => {
    await hands.press(board.control(name));
    await expectPhase(board, words);
    await note(round);
  };
  await press('Pause', 'paused');
  await press('Resume', 'running');
  await press('Hold departures', 'departures held');
  await hands.press(board.control('Let departures go'));
  await expect.poll(() => board.phase.textContent()).not.toContain('held');
  await press('Stop all now', 'all stopped');
  await expectPhaseAfter(board.control('Resume'), board, 'running');
  await press('Hold departures', 'departures held');
  did(round, 'pause', 'resume', 'hold departures', 'let departures go', 'stop all now');
}

/** The end: nothing new begins, and the power is cut. */
export async function roundOfTheEnd(round: Round): Promise<void> {
  const { board, hands } = round;
  const alarms = button(board.header, /^(No alarms|\d+ alarms?)/);
  await hands.press(alarms);
  await expect
    .poll(() => board.alarms.evaluate((list) => list === document.activeElement))
    .toBe(true);
  await hands.press(button(board.header, 'Session and display'));
  const menu = board.page.getByRole('group', { name: 'Session and display' });
  await hands.press(button(menu, 'End session'));
  await note(round);
  await hands.press(button(menu, 'Yes, end it'));
  await menu.waitFor({ state: 'hidden' });
  await expect.poll(async () => (await session(round)).phase).toMatch(/^(ending|ended)$/);
  await hands.press(board.cutPower);
  await expect.poll(async () => (await session(round)).districts).not.toContain('on');
  await note(round);
  did(round, 'alarms waiting', 'end session', 'yes, end it', 'cut power');
}
