import type { Layout, TimetableFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { serviceLines } from './sheet-lines.js';
import { shiftTimes } from './shift-times.js';

const MINUTE = 60_000;
const layout = {
  stations: [
    { file: { id: 'a', name: 'Ashby', chainage: 0 } },
    { file: { id: 'b', name: 'Brook', chainage: 4 } },
  ],
} as unknown as Layout;
const file = {
  services: [
    {
      id: 'S1',
      calls: [
        { station: 'a', depart: '08:00' },
        { station: 'b', stop: 'pass', depart: '08:05' },
        { station: 'a', arrive: '08:10' },
      ],
    },
    {
      id: 'S2',
      calls: [
        { station: 'b', depart: '08:30' },
        { station: 'c', arrive: 'soon' },
      ],
    },
  ],
  workings: [{ train: 'T1', services: ['S1'] }],
} as unknown as TimetableFile;
const draw = (it: TimetableFile) => serviceLines(it, layout, new Map([['T1', 4]]));

describe('the lines of the services', () => {
  it('have a point for each time, and a handle for each departure but a passing', () => {
    const [first, second] = draw(file);
    expect(first).toEqual({
      service: 'S1',
      train: 4,
      points: [
        { fast: 480 * MINUTE, chainage: 0 },
        { fast: 485 * MINUTE, chainage: 4 },
        { fast: 490 * MINUTE, chainage: 0 },
      ],
      departures: [{ fast: 480 * MINUTE, chainage: 0, call: 0, station: 'Ashby' }],
    });
    expect(second?.train).toBe(-1);
    expect(second?.points).toEqual([{ fast: 510 * MINUTE, chainage: 4 }]);
  });

  it('keep their order though one is moved past another', () => {
    const moved = draw(shiftTimes(file, 'S1', 0, 45));
    expect(moved.map(({ service }) => service)).toEqual(['S1', 'S2']);
  });
});
