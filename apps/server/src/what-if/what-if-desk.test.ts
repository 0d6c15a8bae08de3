import { exampleFiles } from '@blockbell/examples';
import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import type { WhatIf } from '@blockbell/rehearsal';
import { afterEach, expect, test, vi } from 'vitest';
import type { ForetoldSession } from './foretold-session.js';
import type { Foreteller, MakeForeteller } from './foretellers.js';
import { WhatIfDesk } from './what-if-desk.js';
import type { ToForeteller } from './what-ifs.js';

const text = exampleFiles('passing-loop');
const session: ForetoldSession = {
  files: {
    layout: JSON.parse(text.layout) as LayoutFile,
    stock: JSON.parse(text.stock) as StockFile,
    timetable: JSON.parse(text.timetable) as TimetableFile,
    hashes: { layout: 'l', stock: 's', timetable: 't' },
  },
  planning: true,
  present: () => Promise.resolve('{}'),
};
const command = { kind: 'hold-train', train: 0, hold: true } as const;
const lateness = { total: 0, weighted: 0 };
const nothing: WhatIf = {
  from: 0,
  until: 0,
  refusal: null,
  changes: [],
  compared: 0,
  lateness: { before: lateness, after: lateness },
  standing: [],
};
const kept = (): AbortSignal => new AbortController().signal;

/** Foretellers that say nothing until they are told to; what each was sent. */
function silent() {
  const made: { sent: ToForeteller[]; closed: boolean; answer: (id: number) => void }[] = [];
  const make: MakeForeteller = (answer): Foreteller => {
    const one = {
      sent: [] as ToForeteller[],
      closed: false,
      answer: (id: number) => answer({ id, whatIf: nothing }),
    };
    made.push(one);
    return { send: (message) => one.sent.push(message), close: () => (one.closed = true) };
  };
  return { made, make };
}

afterEach(() => {
  vi.useRealTimers();
});

test('questions are worked on one after another, and the railway is told once', async () => {
  const { made, make } = silent();
  const desk = new WhatIfDesk(make);
  const both = [1, 2].map(() => desk.ask(session, command, kept()));
  await expect.poll(() => made[0]?.sent.length).toBe(2);
  made[0]!.answer(1);
  await expect.poll(() => made[0]!.sent.length).toBe(3);
  made[0]!.answer(2);
  expect(await Promise.all(both)).toEqual([nothing, nothing]);
  expect(made[0]!.sent.map(({ kind }) => kind)).toEqual(['railway', 'ask', 'ask']);
});

test('a question taken back ends the thread that works on it; the next one begins another', async () => {
  const { made, make } = silent();
  const desk = new WhatIfDesk(make);
  const leaving = new AbortController();
  const asked = desk.ask(session, command, leaving.signal);
  await expect.poll(() => made.length).toBe(1);
  leaving.abort();
  await expect(asked).rejects.toThrow('taken back');
  expect(made[0]!.closed).toBe(true);
  const next = desk.ask(session, command, kept());
  await expect.poll(() => made.length).toBe(2);
  made[1]!.answer(2);
  expect(await next).toEqual(nothing);
});

test('one that takes too long is given up, and more than a few do not wait', async () => {
  vi.useFakeTimers();
  const { made, make } = silent();
  const desk = new WhatIfDesk(make);
  const refusals: unknown[] = [];
  const ask = (signal: AbortSignal): Promise<unknown> =>
    desk.ask(session, command, signal).catch((error: unknown) => refusals.push(error));
  const first = ask(kept());
  const leaving = new AbortController();
  const others = [1, 2, 3, 4].map(() => ask(leaving.signal));
  await expect(desk.ask(session, command, kept())).rejects.toThrow('Too many');
  await vi.advanceTimersByTimeAsync(0);
  leaving.abort();
  await vi.advanceTimersByTimeAsync(30_000);
  await Promise.all([first, ...others]);
  expect(refusals.map(String).join(' ')).toMatch(/not worked out within 30 s.*(taken back.*){4}/);
  expect(made[0]!.closed).toBe(true);
});

test('the memory of the engine is waited for no longer than the answer, and not once it is taken back', async () => {
  vi.useFakeTimers();
  const { made, make } = silent();
  const desk = new WhatIfDesk(make);
  const waiting: ((memory: string) => void)[] = [];
  const slow: ForetoldSession = {
    ...session,
    present: () => new Promise((resolve) => waiting.push(resolve)),
  };
  await Promise.all([
    expect(desk.ask(slow, command, kept())).rejects.toThrow('not worked out within'),
    vi.advanceTimersByTimeAsync(30_000),
  ]);
  const leaving = new AbortController();
  await Promise.all([
    expect(desk.ask(slow, command, leaving.signal)).rejects.toThrow('taken back'),
    vi.advanceTimersByTimeAsync(0).then(() => leaving.abort()),
  ]);
  expect(waiting).toHaveLength(2);
  for (const give of waiting) give('{}');
  await vi.advanceTimersByTimeAsync(0);
  expect(made).toEqual([]);
});

test('when its thread dies, what was asked is refused and the next question begins another', async () => {
  const { made, make } = silent();
  let die: (why: string) => void = () => {};
  const desk = new WhatIfDesk((answer, lost) => {
    die = lost;
    return make(answer, lost);
  });
  const asked = desk.ask(session, command, kept());
  await expect.poll(() => made.length).toBe(1);
  die('it is broken');
  await expect(asked).rejects.toThrow('it is broken');
  const next = desk.ask(session, command, kept());
  await expect.poll(() => made.length).toBe(2);
  made[1]!.answer(2);
  expect(await next).toEqual(nothing);
});
