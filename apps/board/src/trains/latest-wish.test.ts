import { describe, expect, it } from 'vitest';
import { LatestWish } from './latest-wish.js';

/** A link that answers when the test says so. */
function slowLink() {
  const sent: number[] = [];
  const answers: ((accepted: boolean) => void)[] = [];
  const wish = new LatestWish((speed) => {
    sent.push(speed);
    return new Promise((resolve) => answers.push(resolve));
  });
  return { wish, sent, answer: (accepted: boolean) => answers.shift()?.(accepted) };
}

const turn = () => new Promise((resolve) => setTimeout(resolve));

describe('wishes sent one at a time', () => {
  it('leave out those that were overtaken while an answer was due', async () => {
    const { wish, sent, answer } = slowLink();
    const first = wish.ask(10);
    for (const speed of [20, 30, 40]) expect(await wish.ask(speed)).toBe(false);
    expect(sent).toEqual([10]);
    answer(true);
    await turn();
    expect(sent).toEqual([10, 40]);
    answer(true);
    expect(await first).toBe(true);
    expect(wish.settled).toBe(true);
  });

  it('let an urgent one past at once, and end with it', async () => {
    const { wish, sent, answer } = slowLink();
    const first = wish.ask(100);
    const stop = wish.ask(0, true);
    expect(sent).toEqual([100, 0]);
    answer(true);
    await turn();
    answer(true);
    answer(true);
    await Promise.all([first, stop]);
    expect(sent.slice(1).every((speed) => speed === 0)).toBe(true);
    expect(wish.settled).toBe(true);
  });

  it('end with a refusal, and begin anew after it', async () => {
    const { wish, sent, answer } = slowLink();
    const refused = wish.ask(50);
    answer(false);
    expect(await refused).toBe(false);
    void wish.ask(50);
    expect(sent).toEqual([50, 50]);
  });

  it('still send the newest after an older one was refused', async () => {
    const { wish, sent, answer } = slowLink();
    const first = wish.ask(50);
    void wish.ask(0);
    answer(false);
    await turn();
    expect(sent).toEqual([50, 0]);
    answer(true);
    expect(await first).toBe(true);
  });
});
