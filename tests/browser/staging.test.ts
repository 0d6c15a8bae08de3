import { readFile } from 'node:fs/promises';
import type { StationId } from '@blockbell/railway';
import { expect, test } from 'vitest';
import { beginSession, look, runSession } from '../support/drive-session.mjs';
import { nearRules, twoYards } from '../support/two-yards.js';
import { expectInOrder, inEachView } from './support/in-order.js';
import { TABLET, useStage, VIEWS } from './support/stage.js';

const stage = useStage();

async function open() {
  const { page } = await stage.board();
  await page.getByRole('button', { name: 'Use this name' }).click();
  await page.getByRole('link', { name: 'Staging' }).click();
  const rules = page.getByRole('region', { name: 'Rules', exact: true });
  const yard = page.getByRole('region', { name: 'The yard now' });
  await yard.getByRole('table').waitFor();
  return { page, rules, yard, sentences: rules.getByRole('group', { name: 'In sentences' }) };
}

test('the yard is shown with what is used, who leaves next, and what another track would mean', async () => {
  const { page, yard } = await open();
  expect(await yard.getByRole('columnheader').allTextContents()).toContain(
    'Trains, from block D1 to block U14',
  );
  expect(await yard.getByRole('row', { name: /^X1 / }).textContent()).toMatch(
    /From block D1 or block U11 to the dead end: *31 leaves/,
  );
  const first = yard.getByRole('row').nth(1);
  expect(await first.textContent()).toMatch(/^1 *101 leaves at 06:02\. *\d+ *0$/);
  expect(await yard.getByRole('row').nth(8).textContent()).toMatch(/^8 *empty *0 *\d{4}$/);
  const track = yard.getByRole('combobox', { name: 'Track for 64' });
  const options = await track.locator('option').allTextContents();
  expect(options).toContain('track 1: no room now');
  expect(options.join('\n')).toMatch(/track 8: nobody in the way, \d+ mm to spare/);
  // A select is worked by keyboard: the value is chosen, as by arrow keys, and the change told.
  await track.selectOption('8');
  await expect
    .poll(async () =>
      (await look(stage.server.address)).rows.trains!.flatMap(({ wishes }) =>
        (wishes?.tracks ?? []).map((it) => it.track),
      ),
    )
    .toEqual(['8']);
  await track.selectOption('');
  await page.getByRole('link', { name: 'Run' }).waitFor();
});

test('rules are composed without writing code, read as sentences, tried, followed and exported', async () => {
  const { page, rules, sentences } = await open();
  await rules.getByRole('button', { name: 'Add a rule' }).press('Enter');
  await rules.getByLabel('Rule 2: trains', { exact: true }).selectOption('class');
  await rules.getByRole('group', { name: 'Rule 2: trains: which' }).getByLabel('freight').check();
  await rules.getByLabel('Rule 2: tracks', { exact: true }).selectOption('track');
  expect(await rules.getByRole('alert').textContent()).toContain('no track is named');
  await rules
    .getByRole('group', { name: 'Rule 2: tracks: which' })
    .getByRole('checkbox', { name: '8', exact: true })
    .check();
  await rules.getByLabel('Rule 2: first: add').selectOption('random');
  await rules.getByRole('button', { name: 'Rule 2: earlier' }).press('Enter');
  expect(await sentences.textContent()).toContain(
    '1. A train that runs as express or freight takes a track that has room and is track 8; first one by chance (seed 1).',
  );

  await rules.getByRole('button', { name: 'Try on the timetable' }).press('Enter');
  await expect
    .poll(() => rules.getByRole('status').textContent())
    .toMatch(/^\s*Tried on \d+ arrivals: /);
  expect(await rules.getByRole('list').first().textContent()).toBeTruthy();

  // Beside the rules that come with the demo.
  await rules.getByLabel('Compare with').selectOption({ label: 'Demo: expresses in front' });
  await rules.getByRole('button', { name: 'Try on the timetable' }).press('Enter');
  const both = rules.getByRole('table', { name: 'Two rule sets side by side' });
  expect(await both.getByRole('columnheader').allTextContents()).toEqual([
    'On this timetable',
    'Staging rules',
    'Demo: expresses in front',
  ]);
  expect(await both.getByRole('row', { name: /^arrivals that get a track here/ }).count()).toBe(1);
  await rules.getByLabel('Compare with').selectOption({ label: 'nothing' });

  const keep = page.getByRole('region', { name: 'Keep and follow the rules' });
  await keep.getByLabel('Name').fill('Freight in eight');
  await keep.getByRole('button', { name: 'Follow these rules' }).press('Enter');
  await keep.getByText('This session follows “Freight in eight”.').waitFor();
  await keep.getByRole('button', { name: 'Save' }).press('Enter');
  await keep.getByLabel('Saved').waitFor();
  const download = page.waitForEvent('download');
  await keep.getByRole('button', { name: 'Export' }).press('Enter');
  const text = await readFile((await (await download).path())!, 'utf8');

  const file = { name: 'rules.json', mimeType: 'application/json', buffer: Buffer.from(text) };
  await rules.getByRole('button', { name: 'Rule 1: remove' }).press('Enter');
  await keep.getByLabel('Import').setInputFiles(file);
  await expect
    .poll(() => sentences.textContent())
    .toContain('takes a track that has room and is track 8');
  await keep.getByRole('button', { name: 'Load “Demo: expresses in front”' }).press('Enter');
  await expect
    .poll(() => sentences.textContent())
    .toContain('first the one that has got no train for the longest time');
  await rules.getByRole('button', { name: 'Undo' }).press('Enter');
  const broken = Buffer.from(text.replace('"Y8"', '"Y88"'));
  await keep.getByLabel('Import').setInputFiles({ ...file, buffer: broken });
  await page.getByText(/^(Not done: )?rules\.json: .*there is no track Y88/).waitFor();

  await page
    .getByRole('button', { name: /^Close/ })
    .first()
    .click();
  await inEachView(
    page,
    VIEWS.filter(({ colorScheme, viewport }) => colorScheme === 'dark' || viewport === TABLET),
    (view) => expectInOrder(page, view),
  );
});

test('a file with many faults is refused with all of them to be read, and a sound one takes the refusal away', async () => {
  const { address } = stage.server;
  await beginSession(address, { files: twoYards() });
  const { page, rules, yard, sentences } = await open();
  const importing = page
    .getByRole('region', { name: 'Keep and follow the rules' })
    .getByLabel('Import');
  const send = (file: object) =>
    importing.setInputFiles({
      name: 'near.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(file)),
    });
  const tracks = Array.from({ length: 12 }, (_, at) => `Q${at}`);
  await send(
    nearRules({
      arrivals: tracks.map((id) => ({ only: { is: 'track' as const, of: [id] }, order: [] })),
    }),
  );
  const refused = page.getByRole('alert').filter({ hasText: 'Not done' });
  await refused.getByText(/there is no track Q11;/).waitFor();
  const { y, height } = (await refused.boundingBox())!;
  expect(y).toBeGreaterThan(0);
  expect(y + height).toBeLessThanOrEqual(page.viewportSize()!.height);
  expect(
    (await refused.innerText()).split('\n').filter((it) => it.includes('no track')),
  ).toHaveLength(12);
  await send(nearRules({}));
  await refused.waitFor({ state: 'detached' });

  // What is saved for other layouts is not offered here.
  const keep = page.getByRole('region', { name: 'Keep and follow the rules' });
  const kept = (text: RegExp) => page.getByRole('option').filter({ hasText: text });
  await keep.getByText(/^No rules are saved for this layout\. “Save” keeps these/).waitFor();
  expect(await kept(/Freight in eight/).count()).toBe(0);
  await keep.getByRole('button', { name: 'Save' }).press('Enter');
  await keep.getByLabel('Saved').waitFor();
  // To be opened, and to be compared with.
  await expect.poll(() => kept(/^Near rules \(/).count()).toBe(2);

  // They say nothing of the far yard, which can be given rules of its own.
  await yard.getByRole('combobox', { name: 'Yard' }).selectOption({ label: 'Far' });
  await rules.getByText(/^These rules say nothing of Far: /).waitFor();
  await rules.getByRole('button', { name: 'Make rules for Far' }).press('Enter');
  await expect.poll(() => sentences.textContent()).toContain('1. Every train takes');
  // A fallback is put before the asking, and can come earlier.
  await rules.getByRole('button', { name: 'Add a fallback' }).press('Enter');
  expect(await rules.getByLabel('Fallback 2', { exact: true }).inputValue()).toBe('hold');
  await rules.getByRole('button', { name: 'Fallback 2: earlier' }).press('Enter');
  expect(await sentences.textContent()).toContain(
    'If no rule finds a track, it waits outside for 10 minutes.',
  );
});

test('rules in the making are told of while another layout runs, and come back with their own', async () => {
  const { address } = stage.server;
  await beginSession(address);
  const { page, rules, sentences } = await open();
  await rules.getByRole('button', { name: 'Add a rule' }).press('Enter');
  const words = await sentences.textContent();
  await beginSession(address, { example: 'passing-loop' });
  await page
    .getByText(/^Not saved yet: “.+” for .+\. They come back when a session runs on their layout/)
    .waitFor();
  await beginSession(address);
  await expect.poll(() => sentences.textContent()).toBe(words);
  expect(await page.getByText(/^Not saved yet/).count()).toBe(0);
});

test('a train that finds no track is sent to the yard that the rules name, and both yards say so', async () => {
  const { address } = stage.server;
  await beginSession(address, { files: twoYards() });
  const { page, rules, yard } = await open();
  const overflow = { do: 'overflow' as const, to: 'far' as StationId };
  await page
    .getByRole('region', { name: 'Keep and follow the rules' })
    .getByLabel('Import')
    .setInputFiles({
      name: 'near.json',
      mimeType: 'application/json',
      buffer: Buffer.from(JSON.stringify(nearRules({ nothingFits: [overflow] }))),
    });
  await rules.getByText(/Far/).first().waitFor();
  await page.getByRole('button', { name: 'Follow these rules' }).press('Enter');
  await page.getByText('This session follows “Near rules”.').waitFor();
  await runSession(address, 60);
  const sent = yard.getByRole('listitem').filter({ hasText: /^3 goes to Far instead of Near; / });
  await expect.poll(() => sent.count()).toBe(1);
  await yard.getByRole('combobox', { name: 'Yard' }).selectOption({ label: 'Far' });
  await yard.getByRole('heading', { name: 'Far' }).waitFor();
  await sent.waitFor();
  await yard.getByRole('row', { name: /3 leaves at 08:30/ }).waitFor();
});
