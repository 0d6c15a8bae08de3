import type { Locator } from 'playwright-core';
import { expect, test } from 'vitest';
import { beginSession, command, runSession, setPace } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { keyboard, mouse, type Hands } from './support/hands.js';
import { expectInOrder, inEachView } from './support/in-order.js';
import { TABLET, useStage, VIEWS } from './support/stage.js';

/** Two trains: 3 at Lowmarsh, 1047 at Highmarsh. */
const stage = useStage({ BLOCKBELL_EXAMPLE: 'passing-loop' });

async function open({ page }: BoardPage) {
  await page.getByRole('link', { name: 'Trial' }).click();
  const trial = page.getByRole('region', { name: 'Try routes' });
  const routes = page.getByRole('region', { name: 'Routes', exact: true });
  return {
    page,
    trial,
    routes,
    start: trial.getByRole('button', { name: /^Try \d+ routes?$/ }),
    rows: routes.locator('tbody tr'),
    words: () => words(trial.getByRole('status')),
  };
}

const words = async (of: Locator): Promise<string> =>
  ((await of.textContent()) ?? '').replaceAll(/\s+/g, ' ').trim();

test.each([
  ['mouse', mouse],
  ['keyboard', keyboard],
] as const)('every route is tried by %s, and one that is chosen alone', async (_, hands: Hands) => {
  const { trial, routes, start, rows, words: said } = await open(await stage.board());
  await rows.first().waitFor();
  const count = await rows.count();
  expect(await words(start)).toBe(`Try ${count} routes`);
  await hands.press(start);
  await expect
    .poll(said)
    .toMatch(new RegExp(`^${count} passed, 0 failed, 0 not run, in (less than 1|\\d+) s\\.$`));
  expect(await words(rows.first())).toMatch(/✓ passed ?\d+\.\d/);
  await trial.page().getByRole('region', { name: 'What was used' }).waitFor();

  await routes.getByRole('searchbox', { name: 'Shown' }).fill('no such route');
  expect(await routes.textContent()).toContain('No route has “no such route” in its name');
  // Found by its name and by its id.
  for (const sought of ['pennick 2 → block', 'p2>']) {
    await routes.getByRole('searchbox', { name: 'Shown' }).fill(sought);
    expect(await words(rows.first())).toMatch(/^Pennick 2 → block L3 P2>L3/);
    expect(await rows.count()).toBe(2);
  }
  await routes.getByRole('searchbox', { name: 'Shown' }).fill('');
  await rows.first().getByRole('checkbox').check();
  expect(await words(start)).toBe('Try 1 route');
  await hands.press(start);
  await expect.poll(said).toMatch(/^1 passed, 0 failed, 0 not run/);
});

test('a trial is broken off, and what was tried is kept', async () => {
  // Some hundred routes: it goes on until it is broken off.
  await beginSession(stage.server.address);
  const { trial, start, words: said } = await open(await stage.board());
  await start.click();
  await trial.getByRole('button', { name: 'Break off' }).click();
  await expect.poll(said).toMatch(/^\d+ passed, 0 failed, \d+ not run; broken off before the end/);
});

test('a route is run on the layout itself, one at a time, and a person says how it went', async () => {
  await beginSession(stage.server.address, { example: 'passing-loop' });
  const board = await stage.board({ viewport: TABLET });
  await runSession(stage.server.address, 1);
  await command(stage.server.address, { kind: 'hold-departures', hold: true });
  await setPace(stage.server.address, 20);
  const { page, rows } = await open(board);
  const run = rows.getByRole('button', { name: 'Run 3 over it' });
  await run.first().waitFor();
  await run.first().click();
  const layout = page.getByRole('region', { name: 'On the layout itself' });
  await layout.getByRole('button', { name: 'It was not run' }).waitFor();
  expect(await words(layout.getByRole('status'))).toMatch(/^3 over Lowmarsh 1 → block L1: it/);
  const other = rows.getByRole('button', { name: 'Run 1047 over it' });
  await other.first().click();
  await board.notice.waitFor();
  expect(await board.notice.textContent()).toContain(
    'One route at a time: say first how Lowmarsh 1 → block L1 went',
  );
  // What was begun is still there on a page that is loaded again.
  await page.reload();
  await layout.getByRole('button', { name: 'It did', exact: true }).click();
  await expect
    .poll(() => words(rows.filter({ hasText: '✓ right' })))
    .toContain('✓ right, 3, seen by');
  expect(await layout.textContent()).toMatch(/1\s+right/);
});

test('it is printed dark on white, with nothing of the screen’s controls, by who has the board dark', async () => {
  const { page, start, rows, words: said } = await open(await stage.board());
  await page.getByRole('button', { name: 'Session and display' }).click();
  await page.getByRole('radio', { name: 'Dark' }).check();
  await page.keyboard.press('Escape');
  await start.click();
  await expect.poll(said).toMatch(/passed/);
  await page.emulateMedia({ media: 'print' });
  const { ink, paper } = await rows.first().evaluate((row) => ({
    ink: getComputedStyle(row).color,
    paper: getComputedStyle(row.closest('.panel')!).backgroundColor,
  }));
  expect([ink, paper]).toEqual(['rgb(31, 35, 40)', 'rgb(255, 255, 255)']);
  const panels = page.locator('main .panel:visible');
  const edges = await panels.evaluateAll((all) =>
    all.map((it) => getComputedStyle(it).paddingLeft),
  );
  expect([...new Set(edges)]).toEqual(['0px']);
  expect(await page.getByRole('button').filter({ visible: true }).count()).toBe(0);
  expect(
    await page.getByText(/^\s*Pennick passing loop, layout [0-9a-f]{16}, seed \d+\s*$/).isVisible(),
  ).toBe(true);
});

test('what is refused stands beside what was pressed, though that is gone meanwhile', async () => {
  await beginSession(stage.server.address, { example: 'passing-loop' });
  const { page, rows } = await open(await stage.board());
  const cell = rows.locator('td.layout', { has: page.getByRole('button') }).first();
  const { x, y } = (await cell.boundingBox())!;
  await cell.getByRole('button').click();
  const notice = await page.getByRole('alert').filter({ hasText: 'Not done' }).boundingBox();
  expect(notice!.x + notice!.width).toBeGreaterThan(x);
  expect(notice!.y).toBeGreaterThan(y);
});

test('the screen is in order in light and dark, at each size', async () => {
  const { page, start, words: said } = await open(await stage.board());
  await start.click();
  await expect.poll(said).toMatch(/passed/);
  await inEachView(page, VIEWS, (view) => expectInOrder(page, view));
});
