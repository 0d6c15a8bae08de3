import { describe, expect, it } from 'vitest';
import { MirrorTraffic } from '../testing/mirror-traffic.js';
import type { SessionDriver } from '../testing/session-driver.js';
import { runningCrossing } from '../testing/session-settings.js';
import { greedyShuttles } from '../testing/shuttle-line.js';
import { chainSentence, explainWait, waitChain } from './wait-chain.js';

const chainOf = ({ world, state }: SessionDriver, train: number) => waitChain(world, state, train)!;
const trainIndex = (driver: SessionDriver, label: string): number =>
  driver.world.stock.trains.findIndex(({ file }) => file.label === label);

/** Three shuttles at the west end; the first has set off. */
function queue(): SessionDriver {
  const driver = greedyShuttles(
    ['W1', 'W2', 'W3'].map((from, at) => ({ from, runs: 1, priority: 2 + at })),
  );
  while (driver.path('T0').length === 1) driver.wait(100);
  driver.wait(1000);
  return driver;
}

describe('why a train waits', () => {
  it('is told to the root, as data and as a sentence', () => {
    const driver = queue();
    const chain = chainOf(driver, 1);
    expect(chain.links.map(({ train, by }) => [train, by])).toEqual([
      [1, 0],
      [0, -1],
    ]);
    expect(chain.root).toEqual({ kind: 'running', train: 0 });
    expect(chain.circle).toEqual([]);
    expect(chainSentence(driver.world, chain)).toBe(
      'T1 waits: TW1 on its way is held for T0; T0 is moving',
    );
    expect(waitChain(driver.world, driver.state, 0)).toBeNull();
  });

  it('ends with a person where a person holds the train that is waited for', () => {
    const driver = queue();
    driver.state.trains[0]!.wait = { kind: 'held-by-person' };
    expect(chainOf(driver, 2).root).toEqual({ kind: 'person', train: 0 });
    expect(explainWait(driver.world, driver.state, 2).at(-1)).toBe(
      'T0 waits: the dispatcher holds it.',
    );
  });

  it('names a circle of waits as one, with all that are in it and no more', () => {
    const driver = queue();
    const [one, two, three] = driver.state.trains;
    one!.wait = { kind: 'element-held', element: 0, by: 1 };
    two!.wait = { kind: 'element-held', element: 1, by: 2 };
    three!.wait = { kind: 'plan-order', to: 1 };
    const chain = chainOf(driver, 0);
    expect(chain.root.kind).toBe('circle');
    expect(chain.circle).toEqual([1, 2]);
    expect(explainWait(driver.world, driver.state, 0).at(-1)).toBe(
      'T1 and T2 wait for one another in a circle.',
    );
  });

  it('says which train must go first where going now would lock all', () => {
    const driver = greedyShuttles([
      { from: 'W1', runs: 1, priority: 2 },
      { from: 'W2', runs: 1, priority: 3 },
      { from: 'W3', runs: 1, priority: 4 },
      { from: 'E1', runs: 1, priority: 2 },
      { from: 'E2', runs: 1, priority: 3 },
      { from: 'E3', runs: 1, priority: 4 },
    ]);
    const said = new Set<string>();
    new MirrorTraffic(driver).runTo(600_000, () => {
      driver.state.trains.forEach(({ wait }, train) => {
        if (wait?.kind !== 'would-lock') return;
        const [first] = chainOf(driver, train).links;
        said.add(first!.text.replaceAll(/T\d/g, 'T'));
        expect(first!.by).not.toBe(train);
      });
    });
    expect([...said]).toEqual([
      'T waits: if it went now, the trains could no longer all finish; T must go first',
    ]);
  });

  it('goes on from a train that is late to what made it late', () => {
    const driver = runningCrossing();
    const traffic = new MirrorTraffic(driver);
    const [p, g] = [trainIndex(driver, 'P'), trainIndex(driver, 'G')];
    driver.command({ kind: 'hold-train', train: p, hold: true });
    // Booked to leave at 09:05, 50 s after the start; held for 40 s more, which are 4 fast minutes.
    traffic.runTo(92_600);
    driver.command({ kind: 'hold-train', train: p, hold: false });
    traffic.runTo(95_000);
    expect(driver.train('P').delay.lost[0]).toEqual({
      train: -1,
      place: driver.elementIndex('W'),
      why: 'held-by-person',
      time: 240_000,
    });
    driver.state.trains[g]!.wait = { kind: 'element-held', element: 0, by: p };
    expect(explainWait(driver.world, driver.state, g).at(-1)).toMatch(
      /^P .*, 4 min late, mostly since a person held it at Station West 1\.$/,
    );
  });
});

describe('the session log', () => {
  it('tells of a wait once it has lasted, and again when its root changes, and never often', () => {
    const driver = queue();
    const lines = (): string[] =>
      driver.effects.flatMap((it) =>
        it.kind === 'log' && it.text.startsWith('T') ? [it.text] : [],
      );
    expect(lines().filter((it) => it.includes('waits'))).toEqual([]);
    const traffic = new MirrorTraffic(driver);
    traffic.runTo(400_000);
    const waits = lines().filter((it) => it.includes('waits'));
    expect(waits[0]).toMatch(/^T\d waits: .*; T\d is moving\.$/);
    expect(waits.length).toBeLessThan((3 * 400) / 30);
    expect(new Set(waits).size).toBe(waits.length);
  });
});
