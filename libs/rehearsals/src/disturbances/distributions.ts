import type { Distribution } from '@blockbell/contract';
import { nextUint32, type RandomStream } from '@blockbell/simulation';
import { naturalLogarithm } from './logarithm.js';

const TWO_TO_32 = 4294967296;
/** Draws outside the bounds of a cut normal distribution after which the nearer bound is taken. */
const ATTEMPTS = 200;

/** The next value of a distribution, in its unit, at least zero. */
export function drawFrom(stream: RandomStream, distribution: Distribution): number {
  switch (distribution.kind) {
    case 'fixed':
      return distribution.value;
    case 'uniform':
      return distribution.least + fraction(stream) * (distribution.most - distribution.least);
    case 'exponential': {
      const drawn = exponential(stream, distribution.mean);
      return Math.min(drawn, distribution.most ?? drawn);
    }
    case 'normal':
      return cutNormal(stream, distribution);
  }
}

/** Exponential with that mean, by inversion. */
export const exponential = (stream: RandomStream, mean: number): number =>
  -mean * naturalLogarithm(1 - fraction(stream));

/** True in so many percent of draws. */
export const isHit = (stream: RandomStream, percent: number): boolean =>
  fraction(stream) * 100 < percent;

/** From 0 up to, but without, 1. */
export const fraction = (stream: RandomStream): number => nextUint32(stream) / TWO_TO_32;

/** Normal, drawn anew while it lies outside its bounds. */
function cutNormal(
  stream: RandomStream,
  { mean, deviation, least, most }: Extract<Distribution, { kind: 'normal' }>,
): number {
  let drawn = mean;
  for (let attempt = 0; attempt < ATTEMPTS; attempt++) {
    drawn = mean + deviation * standardNormal(stream);
    if (drawn >= least && drawn <= most) return drawn;
  }
  return Math.max(least, Math.min(most, drawn));
}

/** Standard normal by the polar method: G. Marsaglia, T. A. Bray, A convenient method for generating normal variables, 1964. */
function standardNormal(stream: RandomStream): number {
  for (;;) {
    const u = fraction(stream) * 2 - 1;
    const v = fraction(stream) * 2 - 1;
    const s = u * u + v * v;
    if (s > 0 && s < 1) return u * Math.sqrt((-2 * naturalLogarithm(s)) / s);
  }
}
