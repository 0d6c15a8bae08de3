import { exampleFiles } from '@blockbell/examples';
import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { afterEach, expect, test, vi } from 'vitest';
import { inThread } from '../side-thread.js';
import type { Checker, MakeChecker } from './checkers.js';
import { TimetableDesk, type CheckedRailway } from './timetable-desk.js';

const files = exampleFiles('passing-loop');
const railway: CheckedRailway = {
  layout: JSON.parse(files.layout) as LayoutFile,
  stock: JSON.parse(files.stock) as StockFile,
  hashes: { layout: 'l', stock: 's' },
};
const timetable = JSON.parse(files.timetable) as TimetableFile;
const nothing = { faults: [], findings: [] };

afterEach(() => {
  vi.useRealTimers();
});

test('a thread that dies is replaced once: its end takes no question from the one that came after it', async () => {
  const ends = new Promise<void>((ended) => setTimeout(ended, 300));
  const fails = new URL('data:text/javascript,throw new Error("it is broken")');
  const second: MakeChecker = (answer) => ({
    send: (message) => {
      if (message.kind === 'check')
        void ends.then(() => answer({ id: message.id, check: nothing }));
    },
    close: () => {},
  });
  let made = 0;
  const desk = new TimetableDesk((answer, lost) =>
    made++ === 0 ? inThread(fails, answer, lost) : second(answer, lost),
  );
  await expect(desk.check(railway, timetable)).rejects.toThrow('it is broken');
  await expect(desk.check(railway, timetable)).resolves.toEqual(nothing);
  expect(made).toBe(2);
});

test('a question that could not be sent does not wait for an answer', async () => {
  const cantSend: Checker = {
    send: () => {
      throw new Error('it can not be sent');
    },
    close: () => {},
  };
  const desk = new TimetableDesk(() => cantSend);
  for (let asked = 0; asked < 25; asked++)
    await expect(desk.check(railway, timetable)).rejects.toThrow('it can not be sent');
});

test('a checker that stays silent is closed, what was asked is refused, and the next question begins another', async () => {
  vi.useFakeTimers();
  const close = vi.fn<() => void>();
  const desk = new TimetableDesk(() => ({ send: () => {}, close }));
  const asked = [desk.check(railway, timetable), desk.check(railway, timetable)].map((it) =>
    expect(it).rejects.toThrow('could not be checked: it took longer than 60 s'),
  );
  vi.advanceTimersByTime(59_999);
  expect(close).not.toHaveBeenCalled();
  vi.advanceTimersByTime(1);
  await Promise.all(asked);
  expect(close).toHaveBeenCalledTimes(1);
  void desk.check(railway, timetable).catch(() => {});
  vi.advanceTimersByTime(60_000);
  expect(close).toHaveBeenCalledTimes(2);
});
