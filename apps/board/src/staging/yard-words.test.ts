import { describe, expect, it } from 'vitest';
import { optionWords } from './yard-words.js';

const option = { track: '3', hasRoom: true, spare: 120, buries: [], buriedBy: [] };
const label = (train: number): string => `T${train}`;

describe('what a track would mean for a train', () => {
  it.each([
    [option, 'track 3: nobody in the way, 120 mm to spare'],
    [{ ...option, hasRoom: false }, 'track 3: no room now'],
    [{ ...option, buries: [1, 2] }, 'track 3: keeps T1, T2 from leaving, 120 mm to spare'],
    [{ ...option, buriedBy: [4] }, 'track 3: is kept from leaving by T4, 120 mm to spare'],
  ])('%j', (given, words) => {
    expect(optionWords(given, label)).toBe(words);
  });
});
