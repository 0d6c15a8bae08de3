import type { ServiceId, WorkingId } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { checkTimetable } from '../check-timetable.js';
import { edited, filesOf } from '../testing/crossings.js';
import { repeatServices, type Pattern } from './repeat.js';

const { layout, stock, timetable } = filesOf('passing-loop');

const pattern = (services: string, working: string, more: Partial<Pattern> = {}): Pattern => ({
  services: services.split(' ') as ServiceId[],
  every: 40,
  from: '08:05',
  until: '10:00',
  workings: working.split(' ') as WorkingId[],
  ...more,
});

/** There and back once, for each of the two trains. */
const once = edited(timetable, (it) => {
  it.services = it.services.filter(({ id }) => !id.endsWith('-3'));
  for (const working of it.workings) working.services.pop();
  it.clock.end = '11:00';
});

describe('a regular interval', () => {
  it('makes a service of each departure, and a timetable that can be kept if the round can', () => {
    const repeated = repeatServices(once, [
      pattern('S3-1 S3-2', 'W3'),
      pattern('S47-1 S47-2', 'W47'),
    ]);
    if (!repeated.ok) throw new Error('refused');
    expect(repeated.added).toBe(8);
    expect(repeated.timetable.workings[0]!.services).toEqual([
      'S3-1.0805',
      'S3-2.0805',
      'S3-1.0845',
      'S3-2.0845',
      'S3-1.0925',
      'S3-2.0925',
    ]);
    const [first, , third] = repeated.timetable.services;
    expect(first).toMatchObject({ name: 'Shuttle 1, 08:05', calls: once.services[0]!.calls });
    expect(third!.calls.map(({ arrive, depart }) => [arrive, depart])).toEqual([
      [undefined, '08:45'],
      ['08:51', '08:53'],
      ['08:59', undefined],
    ]);
    expect(checkTimetable(layout, stock, repeated.timetable)).toEqual({ faults: [], findings: [] });
  });

  it('is taken in turn by several workings, between their other services', () => {
    const repeated = repeatServices(once, [
      pattern('S3-1', 'W3 W47', { every: 7.5, until: '08:15' }),
    ]);
    expect(repeated).toMatchObject({
      ok: true,
      timetable: {
        workings: [
          { id: 'W3', services: ['S3-1.0805', 'S3-2'] },
          { id: 'W47', services: ['S47-1', 'S3-1.081230', 'S47-2'] },
        ],
      },
    });
  });

  it('names all that is wrong in one go', () => {
    const repeated = repeatServices(once, [pattern('S3-1 S9', 'W9', { every: 0, until: '07:00' })]);
    if (repeated.ok) throw new Error('taken');
    expect(repeated.faults.map(({ text }) => text)).toEqual([
      'there is no service S9',
      'there is no working W9',
      '08:05 to 07:00 is no span of time',
      'an interval of 0 min is no whole number of seconds above zero',
    ]);
  });
});
