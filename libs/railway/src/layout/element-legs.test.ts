import { describe, expect, it } from 'vitest';
import { block, bufferStop, crossing, slip, threeWay, turnout } from '../testing/layout-parts.js';
import { foulingAtPort, legsFrom, legsOf, PORTS, POSITIONS, reverseLeg } from './element-legs.js';
import type { ElementFile } from './layout-file.js';

const ways = (element: ElementFile): (string | null)[][] =>
  legsOf(element, 87).map((leg) => [leg.from, leg.to, leg.position]);

describe('legsOf', () => {
  it.each<[ElementFile, (string | null)[][]]>([
    [block('B'), [['a', 'b', null]]],
    [
      turnout('T'),
      [
        ['stem', 'straight', 'straight'],
        ['stem', 'diverging', 'diverging'],
      ],
    ],
    [
      threeWay('W'),
      [
        ['stem', 'left', 'left'],
        ['stem', 'straight', 'straight'],
        ['stem', 'right', 'right'],
      ],
    ],
    [
      crossing('X'),
      [
        ['a', 'c', null],
        ['b', 'd', null],
      ],
    ],
    [
      slip('S', 'single-slip'),
      [
        ['a', 'c', 'cross'],
        ['b', 'd', 'cross'],
        ['a', 'd', 'slip'],
      ],
    ],
    [
      slip('D', 'double-slip'),
      [
        ['a', 'c', 'cross'],
        ['b', 'd', 'cross'],
        ['a', 'd', 'slip'],
        ['b', 'c', 'slip'],
      ],
    ],
    [bufferStop('E'), []],
  ])('gives the ways through %o', (element, expected) => {
    expect(ways(element)).toEqual(expected);
    for (const [from, to, position] of expected) {
      expect(PORTS[element.kind]).toContain(from);
      expect(PORTS[element.kind]).toContain(to);
      if (position !== null) expect(POSITIONS[element.kind]).toContain(position);
    }
  });

  it('limits the diverging legs only, in mm/s of the model', () => {
    expect(legsOf(turnout('T'), 87).map((leg) => leg.speedLimit)).toEqual([null, 128]);
  });

  it('fouls beyond the legs but not beyond the stem', () => {
    const [straight, diverging] = legsOf(turnout('T'), 87);
    expect(straight).toMatchObject({ foulingBeyondFrom: 0, foulingBeyondTo: 90 });
    expect(diverging).toMatchObject({ foulingBeyondFrom: 0, foulingBeyondTo: 100 });
    expect(foulingAtPort(crossing('X'), 'd')).toBe(70);
    expect(foulingAtPort(turnout('T'), 'stem')).toBe(0);
  });
});

describe('reverseLeg', () => {
  it('changes the ends with their fouling, and is its own inverse', () => {
    for (const leg of [turnout('T'), threeWay('W'), slip('D', 'double-slip')].flatMap((it) =>
      legsOf(it, 87),
    )) {
      const reversed = reverseLeg(leg);
      expect(reversed).toMatchObject({
        from: leg.to,
        to: leg.from,
        foulingBeyondFrom: leg.foulingBeyondTo,
      });
      expect(reverseLeg(reversed)).toEqual(leg);
    }
  });
});

describe('legsFrom', () => {
  it('leads away from the port, whichever way the leg is written', () => {
    const legs = legsOf(slip('S', 'single-slip'), 87);
    expect(legsFrom(legs, 'd').map((leg) => [leg.from, leg.to])).toEqual([
      ['d', 'b'],
      ['d', 'a'],
    ]);
    expect(legsFrom(legs, 'c').map((leg) => leg.to)).toEqual(['a']);
  });
});
