import type { Locator } from 'playwright-core';
import { expect } from 'vitest';
import type { TrainView } from '@blockbell/contract';
import { command, look, setPace } from '../../support/drive-session.mjs';
import { expectMoved } from './expectations.js';
import { keyboard } from './hands.js';
import { button, did, note, tryIt, type Round } from './run-round.js';
import { filesOf } from './session-files.js';

const trainsOf = async ({ address }: Round): Promise<readonly TrainView[]> =>
  (await look(address)).rows.trains!;

/** The picture of the track, and the graph. */
export async function roundOfPictures(round: Round): Promise<void> {
  const { board, hands } = round;
  const { diagram, page } = board;
  const track = page.getByRole('region', { name: 'Track', exact: true });
  for (const name of ['Larger', 'Smaller']) {
    const before = await board.places();
    await hands.press(button(track, name));
    await expectMoved(board, before, 1);
    did(round, name.toLowerCase());
  }
  const whole = await board.places();
  if (hands === keyboard) {
    await hands.press(diagram);
    await page.keyboard.press('+');
  } else {
    await diagram.hover({ position: { x: 4, y: 4 } });
    await page.mouse.wheel(0, -400);
  }
  await expectMoved(board, whole, 1);
  await hands.press(button(track, 'Show all'));
  await expect.poll(() => button(track, 'Show all').isDisabled()).toBe(true);
  did(round, 'track diagram', 'show all');

  const graph = page.getByRole('region', { name: 'Time–distance graph' });
  const span = button(graph, 'Whole session');
  await hands.press(span);
  await expect.poll(() => span.getAttribute('aria-pressed')).toBe('true');
  did(round, 'whole session');
  const chosen = page.getByRole('region', { name: 'Chosen train' });
  const choosers: readonly (readonly [string, Locator])[] = [
    ['train on the graph', graph.getByRole('button', { name: /^Train \S+ on the graph$/ }).first()],
    ['train on the diagram', await uncovered(board.labels)],
    ['train in the list', board.trainList.getByRole('button').first()],
  ];
  for (const [control, chooser] of choosers) {
    if (control === 'train on the graph' && hands !== keyboard) await clickOnLine(chooser);
    else await hands.press(chooser);
    await chosen.waitFor();
    did(round, control);
    if (control === 'train in the list') break;
    await hands.press(button(chosen, 'Close'));
    await chosen.waitFor({ state: 'detached' });
  }
}

/** The first that nothing lies over. */
async function uncovered(labels: Locator): Promise<Locator> {
  const at = await labels.evaluateAll((all) =>
    all.findIndex((one) => {
      const { x, y, width, height } = one.getBoundingClientRect();
      const under = document.elementFromPoint(x + width / 2, y + height / 2);
      return under !== null && one.contains(under);
    }),
  );
  return labels.nth(Math.max(0, at));
}

/** Clicks where the line is drawn: what is around it belongs to others. */
async function clickOnLine(train: Locator): Promise<void> {
  await train.scrollIntoViewIfNeeded();
  const { x, y } = await train.evaluate((group) => {
    const line = group.querySelector('path');
    const matrix = line?.getScreenCTM();
    if (!line || !matrix) throw new Error('the train has no line on the graph');
    const sheet = group.closest('svg')!.getBoundingClientRect();
    const length = line.getTotalLength();
    for (let at = 0; at <= length; at += length / 400) {
      const point = line.getPointAtLength(at).matrixTransform(matrix);
      const isSeen = point.x > sheet.left && point.x < sheet.right;
      const under = isSeen ? document.elementFromPoint(point.x, point.y) : null;
      if (under && group.contains(under)) return { x: point.x, y: point.y };
    }
    throw new Error('the line of the train is covered');
  });
  await train.page().mouse.click(x, y);
}

/** What a chosen train can be told. */
export async function roundOfTrain(round: Round): Promise<void> {
  const { board, hands, address } = round;
  const panel = board.page.getByRole('region', { name: 'Chosen train' });
  const label = /Train (\S+)|Why is (\S+) waiting/
    .exec((await panel.getByRole('heading').first().textContent())!)!
    .slice(1)
    .find(Boolean)!;
  const train = (await filesOf(address)).labels.indexOf(label);
  const now = async (): Promise<TrainView> =>
    (await trainsOf(round)).find((row) => row.train === train)!;
  await note(round);

  await hands.press(button(panel, /^Show the effect of (holding|letting) /));
  const leave = button(panel, /^(Leave it|Stop working it out)$/);
  await hands.press(leave);
  await leave.waitFor({ state: 'detached' });
  did(round, 'show the effect', 'leave the effect');

  await hands.press(button(panel, 'Set a route'));
  await note(round);
  await tryIt(round, button(panel, 'Set it'), () => Promise.resolve(false));
  await hands.press(button(panel, 'Leave'));
  await button(panel, 'Leave').waitFor({ state: 'detached' });
  did(round, 'set it', 'leave setting a route');

  const path = async () => JSON.stringify((await now()).path);
  const before = await path();
  await tryIt(round, button(panel, 'Turn round'), async () => (await path()) !== before);
  did(round, 'turn round');

  await command(address, { kind: 'take-in-hand', train, take: true });
  const speed = panel.getByRole('spinbutton', { name: /^Speed in mm\/s/ });
  await speed.waitFor();
  await note(round);
  await hands.type(speed, '15');
  await board.page.keyboard.press('Tab');
  await expect.poll(async () => (await now()).handSpeed).toBe(15);
  did(round, 'speed as a number');
  await command(address, { kind: 'drive', train, speed: 0 });
  await command(address, { kind: 'take-in-hand', train, take: false });
  // What stood above the rest is gone before the rest is pressed: a press on what moves goes beside it.
  await speed.waitFor({ state: 'detached' });

  await hands.press(panel.getByText(/^Change what /));
  await note(round);
  did(round, 'change what it does');
  const wishes = [
    ['Goes into', 'Choose', 'goes into', 'choose the track'],
    ['Goes before', 'Let it go first', 'goes before', 'let it go first'],
    ['Does not run', 'Cancel', 'does not run', 'cancel'],
  ] as const;
  // What is to come of a train is told a moment after its place, all at once; some have no choice left.
  let patience = 20_000;
  for (const [group, give, list, press] of wishes) {
    const wish = panel.getByRole('group', { name: group, exact: true });
    const isOffered = await wish.waitFor({ timeout: patience }).then(
      () => true,
      () => false,
    );
    if (!isOffered) {
      patience = 1000;
      continue;
    }
    await hands.chooseLast(wish.getByRole('combobox'));
    const before = JSON.stringify((await now()).wishes);
    await tryIt(
      round,
      button(wish, give),
      async () => JSON.stringify((await now()).wishes) !== before,
    );
    did(round, list, press);
  }
  await addService(round, panel, label);
  await hands.press(button(panel, 'Close'));
  await panel.waitFor({ state: 'detached' });
}

async function addService(round: Round, panel: Locator, label: string): Promise<void> {
  const { hands, address } = round;
  const adding = panel.getByRole('group', { name: /^Runs as well/ });
  const added = async () => (await look(address)).rows.session!.added!.services.length;
  const before = await added();
  for (const [name, at, control] of [
    ['Goes to', 1, 'place of an added service'],
    ['Track', 1, 'track of an added service'],
  ] as const) {
    const list = adding.getByRole('combobox', { name });
    const texts = () => list.locator('option').allTextContents();
    await expect.poll(async () => (await texts()).length).toBeGreaterThan(at);
    const options = await texts();
    await hands.choose(list, options[at]!.trim());
    did(round, control);
  }
  await hands.type(adding.getByLabel('Not before'), '23:50');
  await hands.type(adding.getByLabel('Its name'), 'Night extra');
  await tryIt(
    round,
    button(adding, `Add Night extra to the work of ${label}`),
    async () => (await added()) > before,
  );
  did(round, 'time of an added service', 'name of an added service', 'add it');
}

/** What can be done with a chosen block. */
export async function roundOfTrack(round: Round): Promise<void> {
  const { board, hands, address } = round;
  const { layout, labels } = await filesOf(address);
  const taken = new Set(
    (await look(address)).rows.elements!.flatMap(({ element, holder }) =>
      holder >= 0 ? [element] : [],
    ),
  );
  const free = layout.elements.find(
    ({ kind, index, id }) => kind === 'block' && !taken.has(index) && !labels.includes(id),
  )!;
  const find = board.page.getByRole('combobox', { name: /^Find a train, block or turnout/ });
  await hands.write(find, 'Nowhere');
  await board.notice.first().waitFor();
  await note(round);
  await hands.press(button(board.notice, 'Close this message'));
  await board.notice.first().waitFor({ state: 'detached' });
  did(round, 'close a message');
  await hands.type(find, free.id);
  await board.page.keyboard.press('Enter');
  const panel = board.page.getByRole('region', { name: 'Chosen track' });
  await panel.waitFor();
  await note(round);
  const bring = panel.getByRole('combobox', { name: 'Bring a train here' });
  await hands.chooseLast(bring);
  await note(round);
  const held = async () =>
    ((await look(address)).rows.elements!.find(({ element }) => element === free.index)?.holder ??
      -1) >= 0;
  await tryIt(round, button(panel, /^Set a route for /), held);
  did(round, 'bring a train here', 'set a route for the train');

  await hands.type(panel.getByLabel('Close for work'), 'rail joint');
  const reopen = button(panel, /^Reopen /);
  await hands.press(button(panel, /^Close .+/));
  await reopen.waitFor();
  await note(round);
  await hands.press(reopen);
  await reopen.waitFor({ state: 'detached' });
  did(round, 'close for work', 'close track', 'reopen track');
  await setPace(address, 60);
}
