import type { Locator } from 'playwright-core';
import { expect } from 'vitest';

/** More Tab stops than any screen has. */
const ROUND = 200;

/** How a viewer's hands work the page: the same tests are done with each of them. */
export interface Hands {
  /** Presses a button. */
  press(button: Locator): Promise<void>;
  /** Puts text into a field; by mouse and keyboard what stood there goes. */
  type(field: Locator, text: string): Promise<void>;
  /** The same into an empty field, and confirms it. */
  write(field: Locator, text: string): Promise<void>;
  /** Puts a lever as far up as it goes. */
  pushUp(lever: Locator): Promise<void>;
  /** Chooses in a list, by the whole text of what is chosen. */
  choose(list: Locator, text: string): Promise<void>;
  /** Chooses what stands last in a list. */
  chooseLast(list: Locator): Promise<void>;
}

export const mouse: Hands = {
  async press(button) {
    // A control that can't be used yet says why when it is pressed: it takes the click.
    const isBarred = (await button.getAttribute('aria-disabled')) === 'true';
    await button.click({ force: isBarred });
  },
  async type(field, text) {
    await field.click({ clickCount: 3 });
    await field.pressSequentially(text);
  },
  async write(field, text) {
    await mouse.type(field, text);
    await field.press('Enter');
  },
  async pushUp(lever) {
    const { width, height } = await boxOf(lever);
    await lever.click({ position: { x: width - 2, y: height / 2 } });
  },
  choose: chooseShown,
  chooseLast: chooseShownLast,
};

export const touch: Hands = {
  press: (button) => button.tap(),
  async type(field, text) {
    await field.tap();
    await field.pressSequentially(text);
  },
  async write(field, text) {
    await touch.type(field, text);
    await field.press('Enter');
  },
  async pushUp(lever) {
    const { width, height } = await boxOf(lever);
    await lever.tap({ position: { x: width - 2, y: height / 2 } });
  },
  choose: chooseShown,
  chooseLast: chooseShownLast,
};

/** What a list opens belongs to the browser's window, where no pointer of a test reaches. */
async function chooseShown(list: Locator, text: string): Promise<void> {
  await list.selectOption({ label: text });
}

async function chooseShownLast(list: Locator): Promise<void> {
  await list.selectOption({ index: (await list.locator('option').count()) - 1 });
}

/** Nothing but keys: Tab goes to a control, and what it then shows is used. */
export const keyboard: Hands = {
  async press(button) {
    await tabTo(button);
    await button.page().keyboard.press('Enter');
  },
  async type(field, text) {
    await tabTo(field);
    await field.page().keyboard.press('Control+a');
    await field.page().keyboard.type(text);
  },
  async write(field, text) {
    await keyboard.type(field, text);
    await field.page().keyboard.press('Enter');
  },
  async pushUp(lever) {
    await tabTo(lever);
    await lever.page().keyboard.press('End');
  },
  async choose(list, text) {
    await tabTo(list);
    await list.page().keyboard.type(text);
  },
  async chooseLast(list) {
    await tabTo(list);
    await list.page().keyboard.press('End');
  },
};

/** Presses Tab, or Shift and Tab where that is the shorter way, until the control has the focus, as a person does who sees where it is. */
async function tabTo(control: Locator): Promise<void> {
  await control.waitFor();
  if ((await control.getAttribute('tabindex')) === '-1') {
    // Of a group that arrow keys go through, one member is a Tab stop.
    const stop = '[@data-roving and @tabindex="0"]';
    await tabTo(control.locator(`xpath=(ancestor::*[.//*${stop}][1]//*${stop})[1]`));
    return pressUntilFocused(control, 'ArrowDown');
  }
  return pressUntilFocused(control, (await isAhead(control)) ? 'Tab' : 'Shift+Tab');
}

async function pressUntilFocused(control: Locator, key: string): Promise<void> {
  // To find it by its name takes longer than all else, so it is looked for again only where the page made it anew.
  let sought = await control.elementHandle();
  for (let pressed = 0; pressed < ROUND; pressed++) {
    const focus = await sought?.evaluate((one) =>
      one.isConnected ? one === document.activeElement : null,
    );
    if (focus === true) return;
    if (focus === false) await control.page().keyboard.press(key);
    else sought = await control.elementHandle();
  }
  throw new Error(`${key} never came to ${control}`);
}

/** Whether the way to a control is shorter forwards, round the page. */
const isAhead = (control: Locator): Promise<boolean> =>
  control.evaluate((one) => {
    const stops = [
      ...document.querySelectorAll<HTMLElement>('a[href], button, input, select, [tabindex]'),
    ].filter((it) => it.tabIndex >= 0 && it.checkVisibility());
    const here = stops.findIndex((it) => it === document.activeElement);
    const ahead = (stops.findIndex((it) => it === one) - here + stops.length) % stops.length;
    return ahead <= stops.length - ahead;
  });

async function boxOf(control: Locator): Promise<{ width: number; height: number }> {
  await control.scrollIntoViewIfNeeded();
  const box = await control.boundingBox();
  expect(box).not.toBeNull();
  return box!;
}
