import type { Locator, Page } from 'playwright-core';

/** The board as its viewer finds it: by roles and names. */
export class BoardPage {
  readonly header: Locator;
  /** Phase of the session in words. */
  readonly phase: Locator;
  readonly clock: Locator;
  readonly pace: Locator;
  readonly cutPower: Locator;
  readonly notes: Locator;
  readonly lineUp: Locator;
  readonly trainList: Locator;
  readonly alarms: Locator;
  readonly log: Locator;
  readonly diagram: Locator;
  /** The trains' labels on the track. */
  readonly labels: Locator;
  readonly notice: Locator;

  constructor(readonly page: Page) {
    this.header = page.getByRole('banner');
    this.phase = this.header.getByRole('status');
    this.clock = page.getByLabel('Fast clock', { exact: true }).first();
    this.pace = page.getByRole('combobox', { name: 'Pace of the simulated time' });
    this.cutPower = page.getByRole('button', { name: /^Cut power/ });
    this.notes = page.getByRole('region', { name: 'Notes' });
    this.lineUp = page.getByRole('region', { name: 'Line-up' });
    this.trainList = page.getByRole('region', { name: 'Trains', exact: true });
    this.alarms = page.getByRole('region', { name: 'Alarms' });
    this.log = page.getByRole('region', { name: 'Log' });
    this.diagram = page.getByRole('group', { name: /^Track diagram of / });
    this.labels = page
      .getByRole('group', { name: 'Trains on the track' })
      .getByRole('button', { name: /^Train / });
    this.notice = page.getByRole('alert').filter({ hasText: 'Not done' });
  }

  /** A control of the session as a whole, in the header. */
  control(name: string): Locator {
    return this.header.getByRole('group', { name: 'Session' }).getByRole('button', { name });
  }

  /** What each train on the track does, as its label tells it. */
  async trainWords(): Promise<string[]> {
    return this.labels.evaluateAll((labels) =>
      labels.map((label) => label.getAttribute('aria-label') ?? ''),
    );
  }

  async moving(): Promise<string[]> {
    return (await this.trainWords()).filter((words) => /, (moving|stopping),/.test(words));
  }

  /** Where each train's label is on the screen, by the train's name; waits until there are any. */
  async places(): Promise<Map<string, string>> {
    await this.labels.first().waitFor();
    const places = await this.labels.evaluateAll((labels) =>
      labels.map((label): [string, string] => {
        const { x, y } = label.getBoundingClientRect();
        const name = /^Train ([^,]*),/.exec(label.getAttribute('aria-label') ?? '')?.[1];
        return [name ?? '', `${Math.round(x)},${Math.round(y)}`];
      }),
    );
    return new Map(places);
  }

  /** Lets a second's pictures be drawn: a board whose trains stand draws some by the clock, however busy the machine is. */
  async drawOn(): Promise<void> {
    await this.page.evaluate(async () => {
      const end = performance.now() + 1000;
      for (let drawn = 0; drawn < 5 || (drawn < 60 && performance.now() < end); drawn++)
        await new Promise((resolve) => requestAnimationFrame(resolve));
    });
  }
}
