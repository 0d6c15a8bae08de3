import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { launchChromium } from '../../support/launch-chromium.mjs';
import { ServerProcess } from '../../support/server-process.mjs';
import { BoardPage } from './board-page.js';

/** A server of its own and a browser for the tests of one file. */
export interface Stage {
  readonly server: ServerProcess;
  /**
   * Opens the board in a browser profile of its own, closed after the test; `address` if not the server's own. Unless
   * told otherwise, for a viewer who asked for little motion: the picture is drawn less often then.
   */
  board(options?: BrowserContextOptions, address?: string): Promise<BoardPage>;
}

export const DESKTOP = { width: 1280, height: 800 };
export const TABLET = { width: 820, height: 1180 };
/** How pages are looked at: both schemes, both sizes. */
export const VIEWS = [
  { colorScheme: 'light', viewport: DESKTOP },
  { colorScheme: 'dark', viewport: DESKTOP, only: 'colours' },
  { colorScheme: 'light', viewport: TABLET },
  { colorScheme: 'dark', viewport: TABLET, only: 'colours' },
] as const;
/** Each scheme and each size once, where size and scheme have nothing to do with each other. */
export const FEW_VIEWS = [
  { colorScheme: 'light', viewport: DESKTOP },
  { colorScheme: 'dark', viewport: TABLET },
] as const;
/** How long a control may take to be there, ms. */
const PATIENCE = 60_000;

/**
 * Starts server and browser before the file's tests and ends them after. After every test, nothing may stand in the
 * console of any page as an error, save what `expected` matches.
 */
export function useStage(environment: Record<string, string> = {}, expected?: RegExp): Stage {
  const server = new ServerProcess(environment);
  const contexts: BrowserContext[] = [];
  const troubles: string[] = [];
  let browser: Browser | null = null;

  beforeAll(async () => {
    [browser] = await Promise.all([launchChromium(), server.start()]);
  });
  afterEach(async () => {
    await Promise.all(contexts.splice(0).map((context) => context.close()));
    expect(troubles.splice(0).filter((text) => !expected?.test(text))).toEqual([]);
  });
  afterAll(async () => {
    await browser?.close();
    await server.remove();
  });

  return {
    server,
    async board(options = {}, address = server.address) {
      if (!browser) throw new Error('the browser is not started yet');
      const context = await browser.newContext({
        viewport: DESKTOP,
        reducedMotion: 'reduce',
        ...options,
      });
      contexts.push(context);
      context.setDefaultTimeout(PATIENCE);
      const page = await context.newPage();
      watch(page, troubles);
      await page.goto(address);
      return new BoardPage(page);
    },
  };
}

function watch(page: Page, troubles: string[]): void {
  page.on('console', (message) => {
    if (message.type() === 'error') troubles.push(`console: ${message.text()}`);
  });
  page.on('pageerror', (error) => troubles.push(`page: ${error.message}`));
}
