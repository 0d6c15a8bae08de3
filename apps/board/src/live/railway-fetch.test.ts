import { describe, expect, it, vi } from 'vitest';
import { RailwayFetch } from './railway-fetch.js';
import type { FetchTold } from './railway-fetch.js';
import type { Railway } from './session-files.js';

const railway = (session: string): Railway => ({ session }) as Railway;

/** Something that is waited for, and what ends the waiting. */
interface Waiting<T> {
  resolve(value: T): void;
  reject(why: Error): void;
}

/** A fetch whose answers come when the test says so. */
function begun() {
  const answers: Waiting<Railway>[] = [];
  const pauses: Waiting<void>[] = [];
  const told = {
    arrived: vi.fn<FetchTold['arrived']>(),
    failed: vi.fn<FetchTold['failed']>(),
  };
  const next = <T>(waiting: Waiting<T>[]): Promise<T> =>
    new Promise((resolve, reject) => waiting.push({ resolve, reject }));
  const fetch = new RailwayFetch(
    () => next(answers),
    () => next(pauses),
    told,
  );
  return { fetch, answers, pauses, told };
}

describe('fetching the railway of a session', () => {
  it('takes the answer to the last question alone, in whatever order they come', async () => {
    const { fetch, answers, told } = begun();
    const first = fetch.begin();
    const second = fetch.begin();
    answers[1]?.resolve(railway('new'));
    await second;
    answers[0]?.resolve(railway('old'));
    await first;
    expect(told.arrived.mock.calls).toEqual([[railway('new')]]);
  });

  it('says what went wrong and tries again after a pause', async () => {
    const { fetch, answers, pauses, told } = begun();
    const done = fetch.begin();
    answers[0]?.reject(new Error('no answer'));
    await vi.waitFor(() => expect(pauses).toHaveLength(1));
    expect(told.failed.mock.calls).toEqual([['no answer']]);
    pauses[0]?.resolve();
    await vi.waitFor(() => expect(answers).toHaveLength(2));
    answers[1]?.resolve(railway('it'));
    await done;
    expect(told.arrived).toHaveBeenCalledOnce();
  });

  it('neither takes, tells of, nor repeats what was given up', async () => {
    const { fetch, answers, pauses, told } = begun();
    const [first, second] = [fetch.begin(), fetch.begin()];
    answers[0]?.reject(new Error('too late'));
    await first;
    fetch.giveUp();
    answers[1]?.resolve(railway('unwanted'));
    await second;
    expect(told.failed).not.toHaveBeenCalled();
    expect(told.arrived).not.toHaveBeenCalled();
    expect(pauses).toHaveLength(0);
  });
});
