import { endureSession, type SessionOutcome, type SessionRequest } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { exampleRailway } from '../support/railways.js';

const demo = exampleRailway('demo');
const TIMEOUT = 120_000;

const request = (number: number, level: SessionRequest['level']): SessionRequest => ({
  seed: 1,
  number,
  level,
  silent: null,
  people: true,
});

describe('a session in which people close track and drive by hand, and whose program is killed meanwhile', () => {
  it.each([
    ...[1, 3, 6].map((number) => ['none', number] as const),
    ...[2, 4].map((number) => ['ordinary', number] as const),
  ])(
    'comes to its end with every service, nothing broken: faults %s, session %i',
    (level, number) => {
      const outcome: SessionOutcome = endureSession(request(number, level), demo);
      expect(outcome).toMatchObject({ failure: null, ended: true, notRun: [] });
      expect(outcome.identity.wrong['none'] ?? 0).toBe(0);
      expect(outcome.people.closed + outcome.people.driven).toBeGreaterThan(0);
    },
    TIMEOUT,
  );

  it('is the same each time', () => {
    const [one, other] = [1, 2].map(() => endureSession(request(3, 'ordinary'), demo));
    expect(one).toEqual(other);
    expect(one!.people.restarts).toBeGreaterThan(0);
  });
});
