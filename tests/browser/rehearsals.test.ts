import { expect, test } from 'vitest';
import { beginSession } from '../support/drive-session.mjs';
import { exampleRailway } from '../support/railways.js';
import { nearRules, twoYards } from '../support/two-yards.js';
import type { BoardPage } from './support/board-page.js';
import { keyboard } from './support/hands.js';
import { useStage } from './support/stage.js';

const stage = useStage({ BLOCKBELL_EXAMPLE: 'passing-loop' });

async function open({ page }: BoardPage) {
  await page.getByRole('link', { name: 'Rehearsal' }).click();
  const panel = page.getByRole('region', { name: 'Rehearse', exact: true });
  await panel.getByLabel('Dispatching').selectOption('booked');
  return {
    page,
    panel,
    start: panel.getByRole('button', { name: /^Rehearse \d+ sessions?$/ }),
    said: async () => ((await panel.getByRole('status').textContent()) ?? '').trim(),
  };
}

test('sessions are rehearsed with chosen mishaps, by keyboard, and the report is there with its pictures', async () => {
  const { page, panel, start, said } = await open(await stage.board());
  expect(await said()).toContain('Nothing was rehearsed yet');
  await panel.getByLabel('Sessions').fill('4');
  const late = panel.getByRole('group', { name: 'Late starts' });
  await late.getByLabel('% of services').fill('100');
  await late.getByLabel('Late by').selectOption('fixed');
  await late.getByLabel('Always, s of the clock').fill('600');
  await panel.getByRole('checkbox', { name: 'Lost contacts' }).uncheck();
  await panel.getByRole('checkbox', { name: /^Trains return to their starting tracks/ }).check();
  await panel.getByLabel('Compare with').selectOption('way:priority');
  await keyboard.press(start);
  await expect.poll(said).toMatch(/^8 of 8 done, in (\d+ min )?\d+ s\.$/);

  const report = page.getByRole('region', { name: 'Report', exact: true });
  const rows = (await report.getByRole('table').textContent()) ?? '';
  expect(rows).toContain('4 of 4');
  expect(rows).toContain('chosen on the board');
  expect(rows).toMatch(/Return to start\s*before each session ends/);
  expect(rows).toMatch(/Ends as begun\s*100.0 %/);
  await expect
    .poll(() =>
      report
        .getByRole('img')
        .evaluateAll((all) =>
          all.map((image) => image instanceof HTMLImageElement && image.naturalWidth > 0),
        ),
    )
    .toEqual(new Array(7).fill(true));
  const comparison = page.getByRole('region', { name: 'Comparison' });
  expect(await comparison.textContent()).toContain('delay at an arrival that came both ways, min');
  const saved = page.waitForEvent('download');
  await report
    .getByRole('link', { name: 'Where trains wait, on the track diagram, as SVG' })
    .click();
  expect((await saved).suggestedFilename()).toBe('first-track.svg');
});

test('what is wrong with a choice is said, and rehearsals are broken off', async () => {
  const board = await stage.board();
  const { panel, start, said } = await open(board);
  await panel.getByLabel('Sessions').fill('2000');
  const late = panel.getByRole('group', { name: 'Late starts' });
  await late.getByLabel('% of services').fill('101');
  await start.click();
  await expect.poll(() => board.notice.textContent()).toContain('Late starts:');
  await late.getByLabel('% of services').fill('50');
  await start.click();
  await expect.poll(said).toMatch(/^\d+ of 2000 done/);
  await panel.getByRole('button', { name: 'Break off' }).click();
  await expect.poll(said).toMatch(/^\d+ of 2000 done, broken off, in/);
});

test('only timetables and rules for the layout at hand are offered; where there are none, it is said what to do', async () => {
  const { address } = stage.server;
  const keep = async (file: object): Promise<string> => {
    const answer = await fetch(new URL('api/files', address), {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(file),
    });
    return ((await answer.json()) as { file: { hash: string } }).file.hash;
  };
  const { timetable } = exampleRailway('passing-loop');
  const other = { layout: 'elsewhere' };
  await keep({ ...timetable, ...other, name: 'Of another layout' });
  await keep({ ...nearRules({}), ...other, name: 'Of another layout' });
  await beginSession(address, { files: twoYards() });
  const board = await stage.board();
  const offered = async (): Promise<string[]> =>
    (
      await panel
        .getByLabel(/^(Staging rules|Compare with)$/)
        .locator('option')
        .allTextContents()
    )
      .map((text) => text.trim())
      .filter((text) => !text.startsWith('dispatching'));
  const { page, panel } = await open(board);
  const noRules = panel.getByText('No staging rules are saved for this layout: save some');
  const noTimetable = panel.getByText('No other timetable is saved for this layout: change this');
  await noRules.waitFor();
  // The example's own timetable is kept as well, and its layout has the same id.
  const given = (await offered()).find((text) => text.startsWith('timetable'));
  expect(given).toMatch(/^timetable .+ \([0-9a-f]{16}\)$/);
  expect(await offered()).toEqual(['none', 'nothing', given]);

  const rules = await keep(nearRules({}));
  const evening = await keep({ ...twoYards().timetable, name: 'Evening' });
  await page.reload();
  await expect
    .poll(offered)
    .toEqual([
      'none',
      `Near rules (${rules})`,
      'nothing',
      `timetable Evening (${evening})`,
      given,
      `staging rules Near rules (${rules})`,
    ]);
  expect(await noRules.count()).toBe(0);
  await panel.getByLabel('Staging rules').selectOption(rules);
  await panel.getByLabel('Compare with').selectOption(`timetable:${evening}`);

  // On another layout none of it fits, and what was chosen is chosen no longer.
  await beginSession(address, { example: 'demo' });
  await noRules.waitFor();
  await noTimetable.waitFor();
  expect(await offered()).toEqual(['none', 'nothing']);
  expect(await panel.getByLabel('Staging rules').inputValue()).toBe('');
  expect(await panel.getByLabel('Compare with').inputValue()).toBe('');
});
