import type { CDPSession, Locator } from 'playwright-core';
import { beforeAll, describe, expect, test } from 'vitest';
import { beginSession } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { labelsOnTrack, overlaps } from './support/boxes.js';
import { DESKTOP, TABLET, useStage } from './support/stage.js';
import { UNSEEN_TRAINS, unseenRailway } from './support/unseen-railway.js';

const stage = useStage();

const LAYOUTS = [
  { name: 'the demo', on: { example: 'demo' }, trains: 16 },
  { name: 'a generated railway', on: { files: unseenRailway }, trains: UNSEEN_TRAINS },
];
const VIEWS = [
  { name: 'on a desktop', viewport: DESKTOP, hasTouch: false },
  { name: 'on a tablet', viewport: TABLET, hasTouch: true },
];

interface Spot {
  readonly x: number;
  readonly y: number;
}

describe.each(LAYOUTS)('the diagram of $name', ({ on, trains }) => {
  beforeAll(() => beginSession(stage.server.address, on));

  test.each(VIEWS)('is moved, magnified and chosen from: $name', async ({ viewport, hasTouch }) => {
    const board = await stage.board({ viewport, hasTouch });
    await expect.poll(() => board.labels.count()).toBe(trains);
    await board.diagram.scrollIntoViewIfNeeded();
    expect(overlaps(await labelsOnTrack(board.page))).toEqual([]);
    await movesAndMagnifies(board, hasTouch);
    await choosesTrain(board, hasTouch);
    await choosesTrack(board, hasTouch, 'block');
    await choosesTrack(board, hasTouch, 'turnout');
  });
});

async function movesAndMagnifies(board: BoardPage, hasTouch: boolean): Promise<void> {
  const { page, diagram } = board;
  const whole = await scene(board);
  const middle = await middleOf(diagram);
  const changed = async (before: string): Promise<string> => {
    await expect.poll(() => scene(board)).not.toBe(before);
    return scene(board);
  };

  await page.mouse.move(middle.x, middle.y);
  await page.mouse.wheel(0, -400);
  const larger = await changed(whole);
  await page.mouse.down();
  await page.mouse.move(middle.x + 40, middle.y + 30, { steps: 4 });
  await page.mouse.up();
  await changed(larger);
  // The end of a drag chooses nothing.
  expect(await board.page.getByRole('region', { name: /^Chosen/ }).count()).toBe(0);
  await page.getByRole('button', { name: 'Show all' }).click();
  await expect.poll(() => scene(board)).toBe(whole);

  await diagram.focus();
  await page.keyboard.press('+');
  const byKey = await changed(whole);
  await page.keyboard.press('ArrowLeft');
  await changed(byKey);
  await page.keyboard.press('0');
  await expect.poll(() => scene(board)).toBe(whole);

  if (!hasTouch) return;
  const client = await page.context().newCDPSession(page);
  const beside = (by: number): readonly Spot[] => [
    { x: middle.x - by, y: middle.y },
    { x: middle.x + by, y: middle.y },
  ];
  await touch(client, [beside(30), beside(45), beside(60)]);
  const pinched = await changed(whole);
  await touch(client, [
    [middle],
    [{ x: middle.x + 20, y: middle.y }],
    [{ x: middle.x + 50, y: middle.y + 20 }],
  ]);
  await changed(pinched);
  await page.getByRole('button', { name: 'Show all' }).click();
  await expect.poll(() => scene(board)).toBe(whole);
}

/** Fingers put down, moved and lifted: where each of them is, step by step. */
async function touch(client: CDPSession, steps: readonly (readonly Spot[])[]): Promise<void> {
  for (const [index, fingers] of steps.entries())
    await client.send('Input.dispatchTouchEvent', {
      type: index === 0 ? 'touchStart' : 'touchMove',
      touchPoints: fingers.map((spot, id) => ({ ...spot, id })),
    });
  await client.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
}

async function choosesTrain(board: BoardPage, hasTouch: boolean): Promise<void> {
  const label = board.labels.first();
  const chosen = board.page.getByRole('region', { name: 'Chosen train' });
  for (const press of [
    () => label.click(),
    () => label.press('Enter'),
    ...(hasTouch ? [() => label.tap()] : []),
  ]) {
    await press();
    await chosen.waitFor();
    expect(await label.getAttribute('aria-pressed')).toBe('true');
    await chosen.getByRole('button', { name: 'Close', exact: true }).click();
    await chosen.waitFor({ state: 'detached' });
  }
}

/** By keyboard through its name; by pointer where it is then lit, magnified, so that nothing else is meant. */
async function choosesTrack(
  board: BoardPage,
  hasTouch: boolean,
  kind: 'block' | 'turnout',
): Promise<void> {
  const { page, diagram } = board;
  const chosen = page.getByRole('region', { name: 'Chosen track' });
  const spot = await spotOf(board, kind);
  /** What is chosen stands lower on the page, which may be scrolled by then. */
  const inSight = async (): Promise<Spot> => {
    await diagram.scrollIntoViewIfNeeded();
    const { x, y } = (await diagram.boundingBox()) ?? { x: 0, y: 0 };
    return { x: x + spot.x, y: y + spot.y };
  };
  const there = await inSight();
  await page.mouse.move(there.x, there.y);
  await page.mouse.click(there.x, there.y);
  await chosen.waitFor();
  const heading = await chosen.getByRole('heading').first().textContent();
  await chosen.getByRole('button', { name: 'Close', exact: true }).click();
  await chosen.waitFor({ state: 'detached' });

  if (hasTouch) {
    const again = await inSight();
    // On a machine under load a tap can last so long that it is none.
    await expect
      .poll(async () => {
        if (!(await chosen.isVisible())) await page.touchscreen.tap(again.x, again.y);
        await board.drawOn();
        return chosen.isVisible();
      })
      .toBe(true);
    expect(await chosen.getByRole('heading').first().textContent()).toBe(heading);
    await chosen.getByRole('button', { name: 'Close', exact: true }).click();
    await chosen.waitFor({ state: 'detached' });
  }

  const find = page.getByRole('combobox', { name: /^Find a train, block or turnout/ });
  await find.fill(spot.name);
  await find.press('Enter');
  await chosen.waitFor();
  expect(await chosen.getByRole('heading').first().textContent()).toBe(heading);
  await chosen.getByRole('button', { name: 'Close', exact: true }).press('Enter');
  await chosen.waitFor({ state: 'detached' });
}

/** Where the pointer names track of a kind, in pixels from the diagram's corner. */
async function spotOf(
  { page, diagram }: BoardPage,
  kind: 'block' | 'turnout',
): Promise<Spot & { readonly name: string }> {
  const { layout } = await (await fetch(new URL('/api/session/files', page.url()))).json();
  const elements: readonly { id: string; name?: string; kind: string }[] = layout.elements;
  const names = elements.filter((one) => one.kind === kind).map(({ id, name }) => name ?? id);
  const found = await diagram.evaluate((view, wanted) => {
    const { left, top, width, height } = view.getBoundingClientRect();
    // A tap beside a control is taken for one on it.
    const isControl = (x: number, y: number): boolean =>
      !!document
        .elementFromPoint(left + x, top + y)
        ?.closest('[role="button"], button, input, select, a');
    const nearControl = (x: number, y: number): boolean =>
      [-30, -15, 0, 15, 30].some((dx) =>
        [-30, -15, 0, 15, 30].some((dy) => isControl(x + dx, y + dy)),
      );
    for (let y = 4; y < height; y += 3)
      for (let x = 4; x < width; x += 3) {
        const under = document.elementFromPoint(left + x, top + y);
        const place = { clientX: left + x, clientY: top + y, bubbles: true };
        under?.dispatchEvent(new PointerEvent('pointermove', place));
        const name = under instanceof HTMLElement ? under.title : '';
        if (wanted.includes(name) && !nearControl(x, y)) return { x, y, name };
      }
    return null;
  }, names);
  if (!found) throw new Error(`the pointer finds no ${kind}`);
  return found;
}

async function middleOf(thing: Locator): Promise<Spot> {
  const { x, y, width, height } = (await thing.boundingBox()) ?? {
    x: 0,
    y: 0,
    width: 0,
    height: 0,
  };
  return { x: x + width / 2, y: y + height / 2 };
}

/** How the drawing lies in its panel, by where its names are. */
const scene = ({ diagram }: BoardPage): Promise<string> =>
  diagram.locator('text').evaluateAll((names) =>
    names
      .map((one) => {
        const { x, y } = one.getBoundingClientRect();
        return `${one.textContent} ${Math.round(x)} ${Math.round(y)}`;
      })
      .join('; '),
  );
