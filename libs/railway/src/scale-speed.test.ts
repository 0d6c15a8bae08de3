import { describe, expect, it } from 'vitest';
import { modelSpeed } from './scale-speed.js';
import { kmPerH } from './units.js';

// Source of the ratios: NEM 010 (2011): Z 220, N 160, TT 120, H0 87, S 64, 0 45, I 32, II 22.5 (read in secondary
// pages); 1:76.2 is 4 mm to the foot, O 1:48. Source of the speeds: the formula mm/s = km/h / 3.6 × 1000 / ratio,
// worked out to three decimals independently of this program.
const VECTORS: readonly (readonly [scale: string, ratio: number, kmh: number, mmPerS: number])[] = [
  ['Z', 220, 25, 31.566],
  ['Z', 220, 100, 126.263],
  ['Z', 220, 160, 202.02],
  ['N', 160, 40, 69.444],
  ['N', 160, 80, 138.889],
  ['N', 160, 120, 208.333],
  ['TT', 120, 25, 57.87],
  ['TT', 120, 60, 138.889],
  ['TT', 120, 160, 370.37],
  ['H0', 87, 25, 79.821],
  ['H0', 87, 40, 127.714],
  ['H0', 87, 60, 191.571],
  ['H0', 87, 80, 255.428],
  ['H0', 87, 100, 319.285],
  ['H0', 87, 120, 383.142],
  ['H0', 87, 160, 510.856],
  ['OO', 76.2, 100, 364.538],
  ['O', 48, 160, 925.926],
];

describe('modelSpeed', () => {
  it.each(VECTORS)('%s 1:%d, %d km/h is %d mm/s, to the nearest whole', (_, ratio, kmh, speed) => {
    expect(modelSpeed(kmPerH(kmh), ratio)).toBe(Math.round(speed));
  });

  // Source: NEM 661 (2011) section 3, top speed of the prototype 120 km/h, scale speed before the allowance.
  it.each([
    [220, 151.52],
    [160, 208.33],
    [120, 277.78],
    [87, 383.14],
    [64, 520.83],
    [45, 740.74],
    [32, 1041.67],
  ])('1:%d, 120 km/h is %d mm/s', (ratio, speed) => {
    expect(modelSpeed(kmPerH(120), ratio)).toBe(Math.round(speed));
  });
});
