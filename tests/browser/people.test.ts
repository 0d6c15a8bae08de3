import { beforeAll, describe, expect, test } from 'vitest';
import { addPeople, PASSPHRASE } from '../support/add-people.mjs';
import { beginSession, look, runSession, setPace } from '../support/drive-session.mjs';
import type { BoardPage } from './support/board-page.js';
import { expectMoved, expectPhase } from './support/expectations.js';
import { expectInOrder, inEachView } from './support/in-order.js';
import { sentByHand, signIn } from './support/people.js';
import { FEW_VIEWS, TABLET, useStage } from './support/stage.js';

// A page that is told "sign in first" or "you may not" has the browser note the status in its console.
const stage = useStage({ BLOCKBELL_NETWORK: 'open' }, /status of (401|403|409)/);

beforeAll(async () => {
  await addPeople(stage.server, {
    Dora: 'dispatcher',
    Carl: 'crew',
    Cleo: 'crew',
    Vera: 'visitor',
  });
  await beginSession(stage.server.address);
  await runSession(stage.server.address, 10);
});

const PHONE = { width: 390, height: 844 };
const PAGE_VIEWS = [...FEW_VIEWS, { colorScheme: 'dark', viewport: PHONE }] as const;

async function boardOf(name: string, options = {}): Promise<BoardPage> {
  const board = await stage.board(options);
  await signIn(board, name);
  return board;
}

const menuOf = async ({ page }: BoardPage) => {
  await page.getByRole('button', { name: 'Session and display' }).click();
  return page.getByText(/^Signed in as/);
};

describe('signing in', () => {
  test('a wrong passphrase is refused in words, the right one lets in, and signing out shuts again', async () => {
    const board = await stage.board();
    const { page } = board;
    const form = page.getByRole('form', { name: 'Sign in' });
    await form.getByLabel('Name').fill('Dora');
    await form.getByLabel('Passphrase').fill('not this one');
    await form.getByRole('button', { name: 'Sign in' }).click();
    await expect
      .poll(() => form.getByRole('alert').textContent())
      .toBe('The name or the passphrase is not right.');
    expect(await board.diagram.count()).toBe(0);
    await form.getByLabel('Passphrase').fill(PASSPHRASE);
    await form.getByRole('button', { name: 'Sign in' }).click();
    await expectPhase(board, 'running');
    expect(await (await menuOf(board)).textContent()).toContain('Dora, dispatcher');

    await page.getByRole('button', { name: 'Sign out' }).click();
    await form.waitFor();
    await page.reload();
    await form.waitFor();
    expect(await sentByHand(board, { kind: 'stop-all' })).toBe('401 Sign in first.');
  });

  test('by keyboard alone: in, to the menu, and out', async () => {
    const board = await stage.board();
    const { keyboard } = board.page;
    const form = board.page.getByRole('form', { name: 'Sign in' });
    await form.waitFor();
    await keyboard.press('Tab');
    await keyboard.type('dora');
    await keyboard.press('Tab');
    await keyboard.type(PASSPHRASE);
    await keyboard.press('Enter');
    await expectPhase(board, 'running');
    await board.page.getByRole('button', { name: 'Session and display' }).focus();
    await keyboard.press('Enter');
    const out = board.page.getByRole('button', { name: 'Sign out' });
    await out.waitFor();
    await keyboard.press('Tab');
    expect(await out.evaluate((one) => one === document.activeElement)).toBe(true);
    await keyboard.press('Enter');
    await form.waitFor();
  });

  test('the page is in order on a desktop, on a tablet and on a phone, in light and dark', async () => {
    const { page } = await stage.board();
    await page.getByRole('form', { name: 'Sign in' }).waitFor();
    await inEachView(page, PAGE_VIEWS, (view) => expectInOrder(page, view));
  });
});

describe('a visitor', () => {
  test('sees trains and clock move, finds no control, and is refused what is sent by hand', async () => {
    const board = await boardOf('Vera', { reducedMotion: 'no-preference' });
    const { page } = board;
    await expectPhase(board, 'running');
    const clock = await board.clock.textContent();
    await expectMoved(board, await board.places(), 1);
    await expect.poll(() => board.clock.textContent()).not.toBe(clock);

    await board.trainList.getByRole('button').first().press('Enter');
    await page.getByRole('region', { name: 'Chosen train' }).waitFor();
    const commands = page.getByRole('button', {
      name: /stop|pause|resume|hold|let|cut|power|route|hand|turn|give|crew|acknowledge|end session/i,
    });
    expect(await commands.allTextContents()).toEqual([]);
    expect(await board.pace.count()).toBe(0);
    expect(await page.getByRole('link', { name: 'People' }).count()).toBe(0);

    for (const kind of ['stop-all', 'cut-power', 'pause'])
      expect(await sentByHand(board, { kind })).toMatch(/^403 A visitor looks on; only a /);
    await page.keyboard.press('Shift+Escape');
    await board.drawOn();
    await expectPhase(board, 'running');
  });

  test('has a page in order on a desktop, on a tablet and on a phone, in light and dark', async () => {
    const { page, diagram } = await boardOf('Vera');
    await inEachView(page, PAGE_VIEWS, async (view) => {
      await diagram.waitFor();
      await expectInOrder(page, view);
    });
  });
});

describe('a crew', () => {
  /** A train that stands on the layout and nobody drives, by its index. */
  const otherTrain = async (than: number): Promise<number> => {
    const { rows } = await look(stage.server.address);
    return rows.trains!.find(({ train, activity }) => train !== than && activity !== 'absent')!
      .train;
  };

  const crewTrain = async (name: string): Promise<number> => {
    const { rows } = await look(stage.server.address);
    return rows.session!.crews.find((crew) => crew.name === name)?.train ?? -1;
  };

  test('takes a train, drives it and no other, and may stop all', async () => {
    const board = await boardOf('Carl', { viewport: TABLET });
    const { page } = board;
    const choice = page.getByRole('region', { name: 'Choose a train' });
    await choice
      .getByRole('button', { name: /^Drive / })
      .first()
      .click();
    const own = page.getByRole('region', { name: 'Your train' });
    await own.waitFor();
    await expect.poll(() => crewTrain('Carl')).toBeGreaterThanOrEqual(0);
    const train = await crewTrain('Carl');

    await own.getByRole('button', { name: /^Take .* in hand$/ }).click();
    const lever = own.getByRole('slider', { name: 'Speed' });
    await lever.waitFor();
    await lever.focus();
    await page.keyboard.press('PageUp');
    const wanted = async () => (await look(stage.server.address)).rows.trains![train]!.handSpeed;
    await expect.poll(wanted).toBe(25);
    await own.getByRole('button', { name: 'Stop' }).click();
    await expect.poll(wanted).toBe(0);

    const other = await otherTrain(train);
    for (const command of [
      { kind: 'drive', train: other, speed: 10 },
      { kind: 'take-in-hand', train: other, take: true },
      { kind: 'hold-train', train: other, hold: true },
    ])
      expect(await sentByHand(board, command)).toMatch(
        /^403 A crew drives its own train and no other/,
      );
    expect(await sentByHand(board, { kind: 'set-route', train, block: 0 })).toMatch(
      /^403 A crew drives its train; only a dispatcher/,
    );

    await own.getByRole('button', { name: 'Give back to the timetable' }).click();
    await expect.poll(wanted).toBeNull();
    await own.getByRole('button', { name: 'Leave this train' }).click();
    await choice.waitFor();
  });

  test('is put on a train by a dispatcher, and sees it at once', async () => {
    const crew = await boardOf('Cleo', { viewport: PHONE });
    await crew.page.getByRole('region', { name: 'Choose a train' }).waitFor();
    const dispatcher = await boardOf('Dora');
    await dispatcher.trainList.getByRole('button').first().press('Enter');
    const chosen = dispatcher.page.getByRole('region', { name: 'Chosen train' });
    const select = chosen.getByLabel(/^Crew of /);
    await expect.poll(() => select.getByRole('option').allTextContents()).toContain('Cleo');
    await select.selectOption('Cleo');
    await crew.page.getByRole('region', { name: 'Your train' }).waitFor();
    await expect.poll(() => select.inputValue()).toBe('Cleo');
    await select.selectOption('');
    await crew.page.getByRole('region', { name: 'Choose a train' }).waitFor();
  });

  test('a crew that is gone leaves its train at a stand', async () => {
    const board = await boardOf('Carl', { viewport: TABLET });
    await board.page
      .getByRole('button', { name: /^Drive / })
      .first()
      .click();
    const own = board.page.getByRole('region', { name: 'Your train' });
    await own.getByRole('button', { name: /^Take .* in hand$/ }).click();
    await own.getByRole('slider', { name: 'Speed' }).press('End');
    const train = await crewTrain('Carl');
    const wanted = async () => (await look(stage.server.address)).rows.trains![train]!.handSpeed;
    await expect.poll(wanted).toBeGreaterThan(0);
    await board.page.close();
    await expect.poll(wanted).toBe(0);
    const told = async () =>
      (await look(stage.server.address)).rows.log!.map(({ text }) => text).join(' ');
    await expect
      .poll(told)
      .toContain('was told to stop: the link of Carl, who drives it, is lost.');
  });

  test('has a page in order on a desktop, on a tablet and on a phone, in light and dark, with controls large enough for a thumb', async () => {
    const { page } = await boardOf('Carl');
    const own = page.getByRole('region', { name: 'Your train' });
    await inEachView(page, PAGE_VIEWS, async (view) => {
      await own.getByRole('slider', { name: 'Speed' }).waitFor();
      await expectInOrder(page, view);
      for (const button of await own.getByRole('button').all()) {
        const { height = 0 } = (await button.boundingBox()) ?? {};
        expect(height).toBeGreaterThanOrEqual(44);
      }
    });
  });

  test('stops all trains from its page', async () => {
    const board = await boardOf('Carl', { viewport: PHONE });
    await board.page.getByRole('button', { name: 'STOP ALL TRAINS NOW' }).click();
    await expectPhase(board, 'all stopped');
    await expect.poll(() => board.notes.textContent()).toContain('asked by Carl');
    await setPace(stage.server.address, 1);
  });
});

describe('the people', () => {
  test('are added, given another role and a new passphrase, and removed by a builder', async () => {
    const builder = await boardOf('Bea');
    const { page } = builder;
    await page.getByRole('link', { name: 'People' }).click();
    const screen = page.getByRole('region', { name: 'People', exact: true });
    const add = screen.getByRole('form', { name: 'Add somebody' });
    await add.getByLabel(/^Name/).fill('Finn');
    await add.getByLabel('Role').selectOption('visitor');
    await add.getByLabel(/^Passphrase/).fill(PASSPHRASE);
    await add.getByRole('button', { name: 'Add' }).click();
    await screen.getByText('Finn may sign in now, as visitor.').waitFor();

    const finn = await boardOf('Finn');
    await finn.diagram.waitFor();
    await screen.getByLabel('Role of Finn').selectOption('dispatcher');
    await screen.getByText('Finn is dispatcher now.').waitFor();
    await finn.cutPower.waitFor();

    await screen.getByRole('button', { name: 'New passphrase for Finn' }).click();
    await screen.getByLabel(/^New passphrase for Finn, /).fill('another lamp at the signal');
    await screen.getByRole('button', { name: 'Set it' }).click();
    await screen.getByText('Finn has a new passphrase.').waitFor();
    const form = finn.page.getByRole('form', { name: 'Sign in' });
    await form.waitFor();
    await form.getByLabel('Name').fill('Finn');
    await form.getByLabel('Passphrase').fill('another lamp at the signal');
    await form.getByRole('button', { name: 'Sign in' }).click();
    await finn.diagram.waitFor();

    await screen.getByRole('button', { name: 'Remove Finn' }).click();
    await screen.getByRole('button', { name: 'Yes, remove Finn' }).click();
    await screen.getByText('Finn was removed.').waitFor();
    await form.waitFor();
    expect(await screen.getByLabel('Role of Finn').count()).toBe(0);
  });

  test('keep one builder: the refusal stands beside the control', async () => {
    const board = await boardOf('Bea');
    await board.page.getByRole('link', { name: 'People' }).click();
    await board.page.getByLabel('Role of Bea').selectOption('crew');
    await board.notice.waitFor();
    expect(await board.notice.textContent()).toContain(
      'Bea is the only builder; make somebody else a builder first.',
    );
    expect(await board.page.getByLabel('Role of Bea').inputValue()).toBe('builder');
  });

  test('are for builders: a dispatcher finds no such screen', async () => {
    const board = await boardOf('Dora');
    await expectPhase(board, 'all stopped');
    expect(await board.page.getByRole('link', { name: 'People' }).count()).toBe(0);
    await board.page.goto(`${stage.server.address}#/people`);
    await board.diagram.waitFor();
    expect(await board.page.getByRole('region', { name: 'People', exact: true }).count()).toBe(0);
  });

  test('have a screen in order on a desktop, on a tablet and on a phone, in light and dark', async () => {
    const { page } = await boardOf('Bea');
    await page.getByRole('link', { name: 'People' }).click();
    await page.getByRole('button', { name: 'New passphrase for Dora' }).click();
    await page.getByRole('button', { name: 'Remove Carl' }).click();
    await inEachView(page, PAGE_VIEWS, (view) => expectInOrder(page, view));
  });
});
