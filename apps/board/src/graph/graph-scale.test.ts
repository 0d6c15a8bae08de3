import { describe, expect, it } from 'vitest';
import { smallLayout } from '../testing/small-layout.js';
import { chainageScale, spanAround, timeMarks, WINDOW } from './graph-scale.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const session = { from: 6 * HOUR, to: 10 * HOUR };

describe('the window of the graph', () => {
  it('follows the clock in steps and stays within the session', () => {
    expect(spanAround(6 * HOUR, session)).toEqual({ from: 6 * HOUR, to: 6 * HOUR + WINDOW });
    expect(spanAround(8 * HOUR + 7 * MINUTE, session).from).toBe(7 * HOUR + 30 * MINUTE);
    expect(spanAround(11 * HOUR, session)).toEqual({ from: 10 * HOUR - WINDOW, to: 10 * HOUR });
  });

  it('covers a session that is shorter than the window', () => {
    const short = { from: 6 * HOUR, to: 7 * HOUR };
    expect(spanAround(6 * HOUR + 50 * MINUTE, short)).toEqual(short);
  });

  it('marks round times that have room', () => {
    const span = { from: 6 * HOUR + 5 * MINUTE, to: 7 * HOUR };
    expect(timeMarks(span, 700).map((mark) => mark / MINUTE)).toEqual([
      365, 370, 375, 380, 385, 390, 395, 400, 405, 410, 415, 420,
    ]);
    expect(timeMarks(span, 130).map((mark) => mark / MINUTE)).toEqual([390, 420]);
  });
});

describe('stations down the side', () => {
  const { file } = smallLayout();
  const [station] = file.stations;
  if (!station) throw new Error('the small layout has a station');
  const layout = (...chainages: number[]) => ({
    ...smallLayout(),
    stations: chainages.map((chainage, index) => ({
      index,
      file: { ...station, name: `S${chainage}`, chainage },
      tracks: [],
    })),
  });

  it('stand by chainage, the least at the top', () => {
    const { y, marks } = chainageScale(layout(10, 0, 5), 20, 100);
    expect(marks.map(({ name, y: at }) => [name, at])).toEqual([
      ['S0', 20],
      ['S5', 70],
      ['S10', 120],
    ]);
    expect(y(2.5)).toBe(45);
  });

  it('have names that never come closer than a line of text', () => {
    const names = chainageScale(layout(0, 1, 1.2, 1.4, 99, 100), 20, 100).marks.map(
      ({ nameY }) => nameY,
    );
    names
      .slice(1)
      .forEach((place, index) => expect(place - (names[index] ?? 0)).toBeGreaterThanOrEqual(15));
    expect(names.at(-1)).toBe(120);
  });

  it('stand in the middle when there is only one', () => {
    expect(chainageScale(layout(7), 20, 100).marks[0]?.y).toBe(70);
  });
});
