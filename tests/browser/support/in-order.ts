import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { expect } from 'vitest';

/** How a page is looked at. */
export interface View {
  readonly colorScheme: 'light' | 'dark';
  readonly viewport: { readonly width: number; readonly height: number };
  /** A view of this size is looked at before, in other colours: everything else is the same. */
  readonly only?: 'colours';
}

/** Looks at one page in every view, one after the other, as when a window is resized or a screen turns dark at dusk. */
export async function inEachView<V extends View>(
  page: Page,
  views: readonly V[],
  look: (view: V) => Promise<void>,
): Promise<void> {
  for (const view of views) {
    const { colorScheme, viewport } = view;
    await page.emulateMedia({ colorScheme });
    await page.setViewportSize(viewport);
    await look(view).catch((cause: unknown) => {
      const { width, height } = viewport;
      throw new Error(`not in order in ${colorScheme} at ${width} × ${height}`, { cause });
    });
  }
}

/** Nothing runs out of the window, and no viewer is shut out. */
export async function expectInOrder(page: Page, view: View): Promise<void> {
  await expectWithin(page, view.viewport.width);
  await expectOpenToAll(page, view);
}

/** Nothing runs out of a window of this width, pixels. */
export async function expectWithin(page: Page, width: number): Promise<void> {
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
    width,
  );
}

/** No viewer is shut out: neither by colours nor by controls without a name. */
export async function expectOpenToAll(
  page: Page,
  { only }: Pick<View, 'only'> = {},
): Promise<void> {
  // The checker is half a megabyte: it goes into a page once.
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe.source);
  const found = await page.evaluate(async (coloursOnly) => {
    const checker = (window as unknown as { readonly axe: Checker }).axe;
    const { violations } = await checker.run(document, {
      resultTypes: ['violations'],
      ...(coloursOnly ? { runOnly: ['color-contrast', 'link-in-text-block'] } : {}),
    });
    return violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join('\n')}`);
  }, only === 'colours');
  expect(found).toEqual([]);
}

/** What is used of axe, as it is in the page. */
type Checker = Pick<typeof axe, 'run'>;
