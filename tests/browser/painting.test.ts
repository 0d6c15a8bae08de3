import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { command, runSession, setPace } from '../support/drive-session.mjs';
import { expectMoved } from './support/expectations.js';
import { useStage } from './support/stage.js';

const stage = useStage();

/** How often trains are seen to have moved, so that the picture is painted piece by piece. */
const LOOKS = 12;
/** Edges come out a little different where only a part is painted: of 255, and in how many dots. What is left over is more. */
const CLEARLY = 60;
const FEW = 10;

test('a picture painted piece by piece is the one that is painted at once', async () => {
  const { address } = stage.server;
  const board = await stage.board({ reducedMotion: 'no-preference', colorScheme: 'light' });
  await runSession(address, 20);
  await board.labels.first().waitFor();
  for (let seen = 0; seen < LOOKS; seen++) await expectMoved(board, await board.places(), 2);
  await command(address, { kind: 'stop-all' });
  await setPace(address, 60);
  await expect.poll(() => board.moving()).toEqual([]);
  await setPace(address, 1);
  let piecewise = await canvases(board.page);
  await expect
    .poll(async () => {
      const before = piecewise;
      await board.drawOn();
      piecewise = await canvases(board.page);
      return piecewise.every((picture, at) => picture === before[at]);
    })
    .toBe(true);
  const dark = await canvasesIn(board.page, 'dark');
  const atOnce = await canvasesIn(board.page, 'light');
  expect(piecewise).toHaveLength(3);
  dark.forEach((picture, at) => expect(picture).not.toBe(piecewise[at]));
  for (const [at, picture] of atOnce.entries())
    expect(await differences(board.page, picture, piecewise[at] ?? '')).toBeLessThan(FEW);
});

/** How many dots of two pictures are clearly different, where both lie on white paper. */
const differences = (page: Page, one: string, other: string): Promise<number> =>
  page.evaluate(
    async ([pictures, clearly]) => {
      const dots = await Promise.all(
        pictures.map(async (address) => {
          const image = new Image();
          image.src = address;
          await image.decode();
          const context = new OffscreenCanvas(image.width, image.height).getContext('2d');
          if (!context) throw new Error('the browser gives no context to compare in');
          // On white paper, as it is seen: the colour of a dot that is nearly clear says nothing.
          context.fillStyle = 'white';
          context.fillRect(0, 0, image.width, image.height);
          context.drawImage(image, 0, 0);
          return context.getImageData(0, 0, image.width, image.height).data;
        }),
      );
      const [first, second] = dots;
      if (!first?.length || first.length !== second?.length)
        throw new Error(`pictures of ${first?.length} and ${second?.length} values`);
      let count = 0;
      for (let dot = 0; dot < first.length; dot += 4) {
        const apart = [0, 1, 2, 3].map((part) =>
          Math.abs((first[dot + part] ?? 0) - (second[dot + part] ?? 0)),
        );
        if (Math.max(...apart) > clearly) count += 1;
      }
      return count;
    },
    [[one, other], CLEARLY] as const,
  );

/** In other colours everything is painted anew. */
async function canvasesIn(page: Page, theme: 'dark' | 'light'): Promise<string[]> {
  const before = await canvases(page);
  await page.evaluate((chosen) => (document.documentElement.dataset['theme'] = chosen), theme);
  await expect
    .poll(async () => (await canvases(page)).filter((picture, at) => picture === before[at]))
    .toEqual([]);
  return canvases(page);
}

/** What is painted on each canvas of the diagram. */
const canvases = (page: Page): Promise<string[]> =>
  page
    .getByRole('group', { name: /^Track diagram of / })
    .locator('canvas')
    .evaluateAll((found) =>
      found.map((canvas) => (canvas instanceof HTMLCanvasElement ? canvas.toDataURL() : '')),
    );
