import { describe, expect, it } from 'vitest';
import { DARK_COLOURS, isStriped, LIGHT_COLOURS, trainColour } from './train-colours.js';

/** Grounds that trains are drawn on, as in board.css: panel, visible level, hidden level. */
const GROUNDS = {
  light: ['#fbfaf7', '#f4f3ee', '#e1dfd7'],
  dark: ['#1d2127', '#14191f', '#1a1e22'],
};

const channels = (colour: string): number[] =>
  [1, 3, 5].map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255);

/** Relative luminance and contrast as WCAG 2.2 defines them (written from memory). */
function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = channels(colour).map((value) =>
    value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4,
  );
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
function contrast(one: string, other: string): number {
  const [low = 0, high = 0] = [luminance(one), luminance(other)].toSorted((p, q) => p - q);
  return (high + 0.05) / (low + 0.05);
}

describe.each([
  ['light', LIGHT_COLOURS, GROUNDS.light],
  ['dark', DARK_COLOURS, GROUNDS.dark],
] as const)('identity colours, %s', (_, colours, grounds) => {
  it('are at least sixteen, all different', () => {
    expect(new Set(colours).size).toBe(colours.length);
    expect(colours.length).toBeGreaterThanOrEqual(16);
  });

  it('stand out from every ground by the 3:1 that WCAG 2.2 (1.4.11) asks of graphics', () => {
    for (const colour of colours)
      for (const ground of grounds) expect(contrast(colour, ground)).toBeGreaterThanOrEqual(3);
  });

  it('lie apart from one another', () => {
    const distance = (one: string, other: string): number =>
      Math.hypot(...channels(one).map((value, index) => value - (channels(other)[index] ?? 0)));
    colours.forEach((colour, at) =>
      colours
        .slice(at + 1)
        .forEach((other) => expect(distance(colour, other)).toBeGreaterThan(0.1)),
    );
  });
});

describe('a train beyond the palette', () => {
  it('shares a colour and carries a stripe', () => {
    const count = LIGHT_COLOURS.length;
    expect(DARK_COLOURS).toHaveLength(count);
    expect(trainColour(count + 3)).toBe(trainColour(3));
    expect([isStriped(count - 1), isStriped(count)]).toEqual([false, true]);
  });
});
