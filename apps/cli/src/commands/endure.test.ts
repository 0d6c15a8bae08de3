import type { SessionOutcome } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { runCli } from '../run-cli.js';
import { runRecorded } from '../testing/run-recorded.js';

const LONG = 120_000;
const endure = (...args: readonly string[]) =>
  runRecorded('endure', '--workers', '1', '--quiet', ...args);
const outcomesOf = (out: string): SessionOutcome[] =>
  (JSON.parse(out) as { outcomes: SessionOutcome[] }).outcomes;

describe('blockbell endure', () => {
  it(
    'runs sessions and counts services, faults and kilometres',
    async () => {
      const { exit, out } = await endure('--sessions', '2', '--faults', 'none');
      expect(exit).toBe(0);
      expect(out).toMatch(/^ {2}none +2 +1 +[\d.]+ /m);
      expect(out).toContain('met    sessions that failed: 0 sessions');
      expect(out).toContain('met    services not run, faults: none: 0 %');
    },
    LONG,
  );

  it(
    'runs one of its sessions alone just as it ran among the others',
    async () => {
      const all = await endure('--sessions', '3', '--json');
      const alone = await endure('--session', '2', '--json');
      expect(outcomesOf(alone.out)).toEqual([outcomesOf(all.out)[2]]);
    },
    LONG,
  );

  it(
    'runs a session with the faults it is given in place of drawn ones',
    async () => {
      const fault = 'stall@300000:train=T1,duration=20000';
      const { out } = await endure('--session', '3', '--fault', fault, '--json');
      expect(outcomesOf(out)[0]).toMatchObject({ faults: { stall: 1 }, failure: null });
    },
    LONG,
  );

  it(
    'is broken off by an interrupt and tells what was run until then',
    async () => {
      const out: string[] = [];
      const err: string[] = [];
      await runCli(['endure', '--workers', '1', '--sessions', '50', '--json'], {
        out: (text) => out.push(text),
        err: (text) => err.push(text),
        progress: () => process.emit('SIGINT'),
      });
      expect(err.join('\n')).toMatch(/^Ran 1 session of 50, broken off, in /m);
      expect(outcomesOf(out.join('\n'))).toHaveLength(1);
    },
    LONG,
  );

  it.each([
    ['a fault of no session', ['--fault', 'stall@0:train=T1'], 'name it with --session'],
    ['a fault of nobody', ['--session', '1', '--fault', 'stall@0:train=X'], 'no train X'],
    ['no workers', ['--workers', '0'], 'at least 1'],
    ['more than all decoders', ['--silent', '101'], 'at most 100'],
    ['an unknown level', ['--faults', 'mild'], 'none, ordinary, hard, brutal, mixed'],
  ])('refuses %s', async (_, args, text) => {
    const { exit, err } = await endure(...args);
    expect(exit).toBe(2);
    expect(err).toContain(text);
  });
});
