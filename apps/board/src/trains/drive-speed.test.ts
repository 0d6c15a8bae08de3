import { describe, expect, it } from 'vitest';
import { prototypeSpeed, speedAfterKey, speedText, speedWithin } from './drive-speed.js';

describe('keys on the lever', () => {
  it('change the speed in small and large steps, both ways', () => {
    expect(speedAfterKey('ArrowUp', 100, 270)).toBe(105);
    expect(speedAfterKey('ArrowRight', 100, 270)).toBe(105);
    expect(speedAfterKey('ArrowDown', 100, 270)).toBe(95);
    expect(speedAfterKey('ArrowLeft', 100, 270)).toBe(95);
    expect(speedAfterKey('PageUp', 100, 270)).toBe(125);
    expect(speedAfterKey('PageDown', 100, 270)).toBe(75);
  });

  it('stay between a stand and the top speed', () => {
    expect(speedAfterKey('ArrowDown', 3, 270)).toBe(0);
    expect(speedAfterKey('PageUp', 260, 273)).toBe(273);
    expect(speedAfterKey('Home', 100, 273)).toBe(0);
    expect(speedAfterKey('End', 100, 273)).toBe(273);
  });

  it('leave all others alone', () => {
    expect(speedAfterKey('Tab', 100, 270)).toBeNull();
  });
});

describe('a speed that is typed', () => {
  it('is brought to whole mm/s within what the train can do', () => {
    expect(speedWithin(99.6, 270)).toBe(100);
    expect(speedWithin(400, 270)).toBe(270);
    expect(speedWithin(-4, 270)).toBe(0);
    expect(speedWithin(NaN, 270)).toBe(0);
  });
});

describe("the prototype's speed", () => {
  // Arithmetic: 1 m/s is 3.6 km/h; at 1 : 100, 100 mm/s stand for 10 m/s.
  it('is the speed times the scale', () => {
    expect(prototypeSpeed(100, 100)).toBe(36);
    expect(prototypeSpeed(0, 87)).toBe(0);
    expect(speedText(120, 87)).toBe('120 mm/s, 38 km/h');
  });
});
