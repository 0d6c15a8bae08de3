import type { Layout } from '@blockbell/railway';
import { generateRailway } from '@blockbell/simulation';
import type { TrainView } from '@blockbell/contract';
import type { Locator } from 'playwright-core';
import { beforeEach, describe, expect, test } from 'vitest';
import { beginSession, command, look, runSession, setPace } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { expectAllStanding } from './support/expectations.js';
import { keyboard, mouse, touch, type Hands } from './support/hands.js';
import { elementsOf, filesOf, freeWays } from './support/session-files.js';
import { DESKTOP, TABLET, useStage } from './support/stage.js';

const stage = useStage();

const generated = generateRailway({
  seed: 5_209,
  sections: 160,
  trains: 6,
  services: 24,
  singleLineShare: 0.4,
});
const DEMO = { example: 'demo' };
const GENERATED = { files: generated };

/** Every kind of hand, both sizes, both schemes and both railways, each with each other at least once. */
const WAYS = [
  { with: 'mouse', hands: mouse, on: DEMO, viewport: DESKTOP, colorScheme: 'light' },
  { with: 'keyboard', hands: keyboard, on: DEMO, viewport: TABLET, colorScheme: 'dark' },
  { with: 'keyboard', hands: keyboard, on: GENERATED, viewport: DESKTOP, colorScheme: 'light' },
  { with: 'touch', hands: touch, on: GENERATED, viewport: TABLET, colorScheme: 'light' },
  { with: 'mouse', hands: mouse, on: GENERATED, viewport: DESKTOP, colorScheme: 'dark' },
] as const;

describe.each(WAYS)(
  'by $with at $viewport.width pixels in the $colorScheme, $on',
  ({ hands, on, viewport, colorScheme }) => {
    beforeEach(async () => {
      await beginSession(stage.server.address, on);
      await runSession(stage.server.address, FAST);
    });

    const open = (): Promise<BoardPage> =>
      stage.board({ viewport, colorScheme, hasTouch: hands === touch });

    test('a route is set for a train, and one into a train is refused with the reason', async () => {
      const { layout } = await filesOf(stage.server.address);
      await command(stage.server.address, { kind: 'hold-departures', hold: true });
      const board = await open();
      await expectAllStanding(board);

      const train = await setSomeRoute(board, hands, layout, await trains());

      const other = (await trains()).find((row) => row.train !== train && row.path.length > 0)!;
      const taken = other.path.at(-1)!.element;
      await setRoute(board, hands, layout.elements[taken]!.id);
      await board.notice.waitFor();
      expect(await board.notice.textContent()).toMatch(/^Not done.{20,}/);
      expect(elementsOf(await trainNow(train))).not.toContain(taken);
    });

    test('a way is given back with the train approaching: it stops short, and goes on when it is let go', async () => {
      const board = await open();
      const train = await giveSomeWayBack(board, hands);
      const chosen = board.page.getByRole('region', { name: 'Chosen train' });
      await setPace(stage.server.address, HURRY);
      await expect.poll(async () => (await trainNow(train)).activity).toBe('standing');
      const stood = await trainNow(train);
      expect(stood.motion.head).toBeLessThanOrEqual(stood.path.at(-1)!.end);
      const ofIt = new RegExp(`(^|\\s)${await labelOf(board, train)} (was|is|waits|stands)\\b`);
      const alarms = await board.alarms.getByRole('listitem').allTextContents();
      expect(alarms.filter((text) => ofIt.test(text))).toEqual([]);

      await hands.press(chosen.getByRole('button', { name: 'Let go' }));
      await expect.poll(async () => (await trainNow(train)).activity).toBe('moving');
    });

    test('a train in hand stops where its authority ends, whatever speed is asked for', async () => {
      const board = await open();
      const { train, label } = await chooseMoving(board, hands);
      const chosen = board.page.getByRole('region', { name: 'Chosen train' });
      await hands.press(chosen.getByRole('button', { name: 'Hold here' }));
      await hands.press(chosen.getByRole('button', { name: 'Take in hand' }));
      const drive = chosen.getByRole('group', { name: `Drive ${label}` });
      const lever = drive.getByRole('slider', { name: 'Speed' });
      await hands.pushUp(lever);
      const { topSpeed } = await trainNow(train);
      await expect
        .poll(async () => (await trainNow(train)).handSpeed ?? 0)
        .toBeGreaterThan(topSpeed * 0.9);

      await setPace(stage.server.address, HURRY);
      await expect.poll(async () => (await trainNow(train)).activity).toBe('standing');
      const stood = await trainNow(train);
      expect(stood.motion.head).toBeLessThanOrEqual(stood.mark);
      expect(stood.handSpeed).toBeGreaterThan(topSpeed * 0.9);
      await expect.poll(() => drive.textContent()).toContain('runs at 0 mm/s');

      await hands.press(drive.getByRole('button', { name: 'Stop' }));
      await expect.poll(async () => (await trainNow(train)).handSpeed).toBe(0);
      await hands.press(chosen.getByRole('button', { name: 'Give back to the timetable' }));
      await expect.poll(async () => (await trainNow(train)).handSpeed).toBeNull();
      await hands.press(chosen.getByRole('button', { name: 'Let go' }));
      await expect.poll(async () => (await trainNow(train)).activity).toBe('moving');
    });
  },
);

const trains = async (): Promise<TrainView[]> => (await look(stage.server.address)).rows.trains!;

const trainNow = async (train: number): Promise<TrainView> =>
  (await trains()).find((row) => row.train === train)!;

/** Sets a route over free track for a train that stands, another where that locks the railway up; the train, still chosen. */
async function setSomeRoute(
  board: BoardPage,
  hands: Hands,
  layout: Layout,
  rows: readonly TrainView[],
): Promise<number> {
  const standing = new Set(
    rows.filter(({ activity }) => activity === 'standing').map(({ train }) => train),
  );
  for (const { train, block } of freeWays(layout, rows)) {
    if (!standing.has(train)) continue;
    await choose(board, hands, await labelOf(board, train));
    await setRoute(board, hands, layout.elements[block]!.id);
    const isSet = async () => elementsOf(await trainNow(train)).includes(block);
    if (!(await doneOrRefused(board, isSet))) continue;
    // The board hears of it a moment after the layout, and shuts the field then.
    await blockField(board).waitFor({ state: 'detached' });
    return train;
  }
  throw new Error('no route could be set');
}

/** Has a running train give its way back, another where the first needs all it holds; the train, held and chosen. */
async function giveSomeWayBack(board: BoardPage, hands: Hands): Promise<number> {
  const refused: number[] = [];
  while (refused.length < TRIES) {
    // Who was refused a while ago may hold more by now.
    const { train } = await chooseMoving(board, hands, refused.slice(-2));
    const chosen = board.page.getByRole('region', { name: 'Chosen train' });
    await hands.press(chosen.getByRole('button', { name: 'Give the way back' }));
    if (await doneOrRefused(board, async () => (await trainNow(train)).held)) return train;
    refused.push(train);
  }
  throw new Error('no train could give its way back');
}

/** Whether it came to be; a refusal is closed. */
async function doneOrRefused(board: BoardPage, done: () => Promise<boolean>): Promise<boolean> {
  let refused = false;
  await expect
    .poll(async () => {
      refused = (await board.notice.count()) > 0;
      return refused || (await done());
    })
    .toBe(true);
  if (!refused) return true;
  await board.page.keyboard.press('Escape');
  await board.notice.waitFor({ state: 'detached' });
  return false;
}

async function labelOf(board: BoardPage, train: number): Promise<string> {
  const label = (await filesOf(stage.server.address)).labels[train]!;
  await expect.poll(() => board.trainList.textContent()).toContain(label);
  return label;
}

/** Chooses a train by its name. */
async function choose(board: BoardPage, hands: Hands, label: string): Promise<void> {
  await hands.write(findField(board), label);
  await board.page.getByRole('region', { name: 'Chosen train' }).waitFor();
}

const findField = (board: BoardPage): Locator =>
  board.page.getByRole('combobox', { name: /^Find a train, block or turnout/ });

/**
 * Waits for a train, none of `except`, that runs and holds a block far ahead, which it does not need to come to a stand,
 * and chooses it, at a pace that leaves time for whatever comes next.
 */
async function chooseMoving(
  board: BoardPage,
  hands: Hands,
  except: readonly number[] = [],
): Promise<{ readonly train: number; readonly label: string }> {
  let train: number | null = null;
  // A busy machine is slower to look than a train to pass: then time has to pass more slowly.
  for (let pace = FAST; train === null; pace = Math.max(1, pace / 2)) {
    await setPace(stage.server.address, pace);
    await expect.poll(() => runsWithFarToGo(except)).not.toBeNull();
    await setPace(stage.server.address, SLOW);
    train = await runsWithFarToGo(except);
  }
  const label = await labelOf(board, train);
  await choose(board, hands, label);
  return { train, label };
}

async function runsWithFarToGo(except: readonly number[]): Promise<number | null> {
  const { now, rows } = await look(stage.server.address);
  const found = rows.trains!.find(({ train, activity, motion, path }) => {
    if (except.includes(train)) return false;
    const head = motion.head + (motion.target * (now - motion.since)) / 1000;
    return activity === 'moving' && motion.speed > 0 && path.at(-1)!.start - head > FAR;
  });
  return found?.train ?? null;
}

/** How many trains are asked to give their way back. */
const TRIES = 8;
/** Pace at which nobody waits long for a train, and it can still be caught on its way. */
const FAST = 20;
/** Pace at which a train has soon stopped or left. */
const HURRY = 60;
/** Pace at which a train comes to nothing while keys are pressed. */
const SLOW = 0.1;
/** mm from a train to the last block it holds: more than it needs to come to a stand. */
const FAR = 1500;

const blockField = (board: BoardPage): Locator =>
  board.page
    .getByRole('region', { name: 'Chosen train' })
    .getByRole('combobox', { name: /^Block where the way of / });

async function setRoute(board: BoardPage, hands: Hands, block: string): Promise<void> {
  const chosen = board.page.getByRole('region', { name: 'Chosen train' });
  const field = blockField(board);
  if (!(await field.isVisible()))
    await hands.press(chosen.getByRole('button', { name: 'Set a route' }));
  await hands.write(field, block);
}
