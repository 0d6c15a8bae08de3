import type { Locator } from 'playwright-core';
import { expect } from 'vitest';
import type { BoardPage } from './board-page.js';

/** Clicks a control if it is there and stays: what goes meanwhile is not waited for. Within a poll, which tries again. */
export async function clickIfThere(control: Locator): Promise<boolean> {
  if ((await control.count()) === 0) return false;
  await control.first().click({ timeout: 1_000 });
  return true;
}

export async function expectPhase(board: BoardPage, words: string): Promise<void> {
  await expect.poll(() => board.phase.textContent()).toContain(words);
}

/** Waits until as many trains as said have moved on the diagram since `before`. */
export async function expectMoved(
  board: BoardPage,
  before: ReadonlyMap<string, string>,
  atLeast: number,
): Promise<void> {
  await expect
    .poll(async () => {
      const now = [...(await board.places())];
      return now.filter(([train, place]) => before.has(train) && before.get(train) !== place)
        .length;
    })
    .toBeGreaterThanOrEqual(atLeast);
}

/** Waits until every train stands, and the picture shows it. */
export async function expectAllStanding(board: BoardPage): Promise<void> {
  await expect.poll(() => board.labels.count()).toBeGreaterThan(0);
  await expect.poll(() => board.moving()).toEqual([]);
  await board.drawOn();
}

/** Chooses a pace on the board; it counts once the server has accepted it. */
export async function expectPaceTaken({ pace }: BoardPage, wanted: number): Promise<void> {
  await pace.selectOption(String(wanted));
  await expect.poll(() => pace.inputValue()).toBe(String(wanted));
}

/** Presses a control until the session is in the phase: an order for all trains may still be sought. */
export async function expectPhaseAfter(
  control: Locator,
  board: BoardPage,
  words: string,
): Promise<void> {
  await expect
    .poll(async () => {
      await clickIfThere(control);
      return board.phase.textContent();
    })
    .toContain(words);
}

/** Confirms, one after the other, whatever the line-up asks. */
export async function settleLineUp(board: BoardPage): Promise<void> {
  const open = board.lineUp.getByRole('button', { name: /^Confirm \S+ as listed$/ });
  const reset = board.lineUp.getByRole('button', { name: /^Reset / });
  const clear = board.lineUp.getByRole('button', { name: / is clear$/ });
  await expect
    .poll(async () => {
      for (const answer of [open, reset, clear]) await clickIfThere(answer);
      return (await open.count()) + (await reset.count()) + (await clear.count());
    })
    .toBe(0);
}
