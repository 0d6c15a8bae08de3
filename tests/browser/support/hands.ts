import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';

/** More Tab stops than any screen has. */
const ROUND = 200;

/** How a viewer's hands work the page: the same tests are done with each of them. */
export interface Hands {
  /** Presses a button. */
  press(button: Locator): Promise<void>;
  /** Puts text into an empty field and confirms it. */
  write(field: Locator, text: string): Promise<void>;
  /** Puts a lever as far up as it goes. */
  pushUp(lever: Locator): Promise<void>;
}

export const mouse: Hands = {
  press: (button) => button.click(),
  async write(field, text) {
    await field.click();
    await field.pressSequentially(text);
    await field.press('Enter');
  },
  async pushUp(lever) {
    const { width, height } = await boxOf(lever);
    await lever.click({ position: { x: width - 2, y: height / 2 } });
  },
};

export const touch: Hands = {
  press: (button) => button.tap(),
  async write(field, text) {
    await field.tap();
    await field.pressSequentially(text);
    await field.press('Enter');
  },
  async pushUp(lever) {
    const { width, height } = await boxOf(lever);
    await lever.tap({ position: { x: width - 2, y: height / 2 } });
  },
};

/** Nothing but keys: Tab goes to a control, and what it then shows is used. */
export const keyboard: Hands = {
  async press(button) {
    await tabTo(button);
    await button.page().keyboard.press('Enter');
  },
  async write(field, text) {
    await tabTo(field);
    await field.page().keyboard.type(text);
    await field.page().keyboard.press('Enter');
  },
  async pushUp(lever) {
    await tabTo(lever);
    await lever.page().keyboard.press('End');
  },
};

/** Presses Tab, or Shift and Tab where that is the shorter way, until the control has the focus, as a person does who sees where it is. */
async function tabTo(control: Locator): Promise<void> {
  await control.waitFor();
  const page: Page = control.page();
  const key = (await isAhead(control)) ? 'Tab' : 'Shift+Tab';
  for (let pressed = 0; pressed < ROUND; pressed++) {
    if (await control.evaluate((one) => one === document.activeElement)) return;
    await page.keyboard.press(key);
  }
  throw new Error(`Tab never came to ${control}`);
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
