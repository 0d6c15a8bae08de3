/**
 * Seeded chance. Each purpose has a stream of its own, forked by name, so that drawing more for one
 * purpose (another fault, say) shifts nothing elsewhere. The generator is a small fast counting one with
 * 128 bits of state; a stream is plain data.
 */
export interface RandomStream {
  a: number;
  b: number;
  c: number;
  counter: number;
}

const WARM_UP = 12;
const TWO_TO_32 = 4294967296;

/** A stream for one purpose. The same seed and name always give the same numbers. */
export function forkStream(seed: number, name: string): RandomStream {
  const stream: RandomStream = {
    a: seed | 0,
    b: hashName(name, 0x811c9dc5),
    c: hashName(name, 0x2c9277b5),
    counter: 1,
  };
  for (let round = 0; round < WARM_UP; round += 1) nextUint32(stream);
  return stream;
}

/** The next number from 0 to 2³²−1. */
export function nextUint32(stream: RandomStream): number {
  const sum = (((stream.a + stream.b) | 0) + stream.counter) | 0;
  stream.counter = (stream.counter + 1) | 0;
  stream.a = stream.b ^ (stream.b >>> 9);
  stream.b = (stream.c + (stream.c << 3)) | 0;
  stream.c = (stream.c << 21) | (stream.c >>> 11);
  stream.c = (stream.c + sum) | 0;
  return sum >>> 0;
}

/** An integer from `least` to `most`, both included; `least` when the range is empty. */
export function nextBetween(stream: RandomStream, least: number, most: number): number {
  if (most <= least) return least;
  return least + Math.floor((nextUint32(stream) / TWO_TO_32) * (most - least + 1));
}

/** A fraction from −1 to 1. */
export function nextSigned(stream: RandomStream): number {
  return (nextUint32(stream) / TWO_TO_32) * 2 - 1;
}

/** True in `permille` of a thousand draws. */
export function nextChance(stream: RandomStream, permille: number): boolean {
  return nextBetween(stream, 0, 999) < permille;
}

function hashName(name: string, offset: number): number {
  let hash = offset | 0;
  for (let index = 0; index < name.length; index += 1) {
    hash = Math.imul(hash ^ name.charCodeAt(index), 0x01000193);
  }
  return hash;
}
