import type { TrackArea, TrackBuilder } from '@blockbell/simulation';
import { bothWays, towardsA, towardsB, type Areas } from './wiring.js';

/** The up line (towards the yard, westbound) is drawn above the down line: trains keep to the right. */
export const UP = 124;
export const DOWN = 148;

/** Blocks of both lines between two places; `down` in the order of travel, `up` against it. */
export function addDoubleTrack(
  area: TrackArea,
  fromX: number,
  step: number,
  blocks: readonly { readonly down: string; readonly up: string; readonly length: number }[],
): void {
  blocks.forEach(({ down, up, length }, index) => {
    const left = fromX + step * index;
    const right = left + step;
    area
      .block(down, {
        from: [left, DOWN],
        to: [right, DOWN],
        pieces: towardsB(length),
        directions: 'a-to-b',
      })
      .block(up, {
        from: [left, UP],
        to: [right, UP],
        pieces: towardsA(length),
        directions: 'b-to-a',
      });
  });
}

/** The line up from the yard, and Brindlemere: a loop on each side, and a goods spur on the up side. */
export function addBrindlemere(track: TrackBuilder, { west }: Areas): void {
  const line = west.with({ detector: 'current-sensor' });
  addDoubleTrack(line, 20, 56, [
    { down: 'D3', up: 'U9', length: 1800 },
    { down: 'D4', up: 'U8', length: 2000 },
    { down: 'D5', up: 'U7', length: 2100 },
  ]);
  track.join('D2.a', 'D3.a').join('U9.a', 'U10.a');
  line
    .turnout('AW1', { stem: [188, DOWN], straight: [200, DOWN], diverging: [200, 160] })
    .turnout('AW2', { stem: [188, UP], straight: [200, UP], diverging: [200, 112] })
    .turnout('AE1', { stem: [352, DOWN], straight: [340, DOWN], diverging: [340, 160] })
    .turnout('AE2', { stem: [352, UP], straight: [340, UP], diverging: [340, 112] })
    .turnout('AE3', { stem: [376, UP], straight: [352, UP], diverging: [364, 112] })
    .turnout('AE4', { stem: [376, UP], straight: [400, UP], diverging: [388, 136] })
    .turnout('AE5', { stem: [400, DOWN], straight: [352, DOWN], diverging: [388, 136] });
  west
    .block('A1', {
      from: [200, 112],
      to: [340, 112],
      via: [
        [212, 100],
        [328, 100],
      ],
      pieces: bothWays(2400),
      directions: 'b-to-a',
    })
    .block('A2', { from: [200, UP], to: [340, UP], pieces: bothWays(2300), directions: 'b-to-a' })
    .block('A3', {
      from: [200, DOWN],
      to: [340, DOWN],
      pieces: bothWays(2300),
      directions: 'a-to-b',
    })
    .block('A4', {
      from: [200, 160],
      to: [340, 160],
      via: [
        [212, 172],
        [328, 172],
      ],
      pieces: bothWays(2400),
      directions: 'a-to-b',
    })
    .bufferStop('ZA5', [224, 76])
    .block('A5', { from: [224, 76], to: [364, 112], via: [[328, 76]], pieces: bothWays(1900) });
  track.station('brindlemere', 'Brindlemere', 'station', 6, [
    { block: 'A1', name: '1', platform: true },
    { block: 'A2', name: '2', platform: true },
    { block: 'A3', name: '3', platform: true },
    { block: 'A4', name: '4', platform: true },
    { block: 'A5', name: 'Spur', platform: false },
  ]);
}

/** Ostraven: a loop on each side, a crossover to turn back westwards, the junction and a bay for the branch. */
export function addOstraven(track: TrackBuilder, { west, branch }: Areas): void {
  addDoubleTrack(west, 400, 60, [
    { down: 'D6', up: 'U6', length: 2100 },
    { down: 'D7', up: 'U5', length: 2000 },
    { down: 'D8', up: 'U4', length: 2100 },
  ]);
  const throat = west.with({ detector: 'current-sensor' });
  throat
    .turnout('BW1', { stem: [580, UP], straight: [604, UP], diverging: [592, 136] })
    .turnout('BW2', { stem: [604, DOWN], straight: [580, DOWN], diverging: [592, 136] })
    .turnout('BW3', { stem: [604, DOWN], straight: [616, DOWN], diverging: [616, 160] })
    .turnout('BW4', { stem: [604, UP], straight: [616, UP], diverging: [616, 112] })
    .turnout('BE1', { stem: [768, DOWN], straight: [756, DOWN], diverging: [756, 160] })
    .turnout('BE2', { stem: [768, UP], straight: [756, UP], diverging: [756, 112] })
    .turnout('BJ1', { stem: [768, DOWN], straight: [780, DOWN], diverging: [792, 172] })
    .turnout('BJ2', { stem: [768, UP], straight: [804, UP], diverging: [780, 136] })
    .crossing('BX1', { a: [780, DOWN], b: [780, 136], c: [804, DOWN], d: [804, 160] });
  west
    .block('B1', {
      from: [616, 112],
      to: [756, 112],
      via: [
        [628, 100],
        [744, 100],
      ],
      pieces: bothWays(2400),
      directions: 'b-to-a',
    })
    .block('B2', { from: [616, UP], to: [756, UP], pieces: bothWays(2300), directions: 'b-to-a' })
    .block('B3', {
      from: [616, DOWN],
      to: [756, DOWN],
      pieces: bothWays(2300),
      directions: 'a-to-b',
    })
    .block('B4', {
      from: [616, 160],
      to: [756, 160],
      via: [
        [628, 172],
        [744, 172],
      ],
      pieces: bothWays(2400),
    });
  branch
    .with({ detector: 'current-sensor' })
    .turnout('BJ3', { stem: [816, 172], straight: [792, 172], diverging: [804, 160] })
    .turnout('BJ4', { stem: [840, 172], straight: [816, 172], diverging: [828, 184] });
  branch
    .bufferStop('ZB5', [640, 196])
    .block('B5', { from: [640, 196], to: [828, 184], via: [[816, 196]], pieces: bothWays(1700) });
  track.station('ostraven', 'Ostraven', 'junction', 12, [
    { block: 'B1', name: '1', platform: true },
    { block: 'B2', name: '2', platform: true },
    { block: 'B3', name: '3', platform: true },
    { block: 'B4', name: '4', platform: true },
    { block: 'B5', name: 'Bay', platform: true },
  ]);
}
