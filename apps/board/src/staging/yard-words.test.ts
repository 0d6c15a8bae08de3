import { describe, expect, it } from 'vitest';
import { openWords, optionWords } from './yard-words.js';

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

describe('what has become of a service that names no train', () => {
  it.each([
    [
      null,
      null,
      undefined,
      'when it leaves the rules choose any train that is free here, until 06:30.',
    ],
    [
      { state: 'awaited' as const, train: null, why: 'T1 is too long.' },
      null,
      ['freight', 'works'],
      'when it leaves the rules choose a train of class freight or works that is free here, until 06:30. Not yet: T1 is too long.',
    ],
    [
      { state: 'given' as const, train: 3, why: 'it is the only one.' },
      'T3',
      undefined,
      'T3 works it; it is the only one.',
    ],
    [
      { state: 'not-run' as const, train: null, why: 'F1 is not run.' },
      null,
      undefined,
      'F1 is not run.',
    ],
  ])('%j', (run, of, classes, words) => {
    expect(openWords(run, of, classes, '06:30')).toBe(words);
  });
});
