import { describe, expect, it } from 'vitest';
import { reviewOf, RUN, screenOf, SESSIONS } from '../shared/screens.svelte.js';
import { refusalIn } from './refusal-in.js';
import { lateText, spanText } from '../shared/span-text.js';
import { deedOf } from './transport-keys.js';

const MINUTE = 60_000;

describe('lengths of time', () => {
  it.each([
    [0, '0 s'],
    [59_999, '59 s'],
    [MINUTE, '1 min 00 s'],
    [61.5 * MINUTE, '1 h 01 min'],
  ])('%d ms is %s', (span, text) => {
    expect(spanText(span)).toBe(text);
  });

  it.each([
    [0, 'on time'],
    [59_000, 'on time'],
    [3.9 * MINUTE, '+3 min'],
    [-MINUTE, '−1 min'],
  ])('%d ms late is %s', (late, text) => {
    expect(lateText(late)).toBe(text);
  });
});

describe('the address of a screen', () => {
  it('leads to the screen it was made for', () => {
    expect(screenOf(RUN)).toEqual({ kind: 'run' });
    expect(screenOf(SESSIONS)).toEqual({ kind: 'sessions' });
    expect(screenOf(reviewOf(12))).toEqual({ kind: 'review', session: 12 });
  });

  it.each(['', '#', '#/sessions/', '#/sessions/x', '#/sessions/-1', '#/elsewhere'])(
    '“%s” is the board',
    (hash) => {
      expect(screenOf(hash)).toEqual({ kind: 'run' });
    },
  );
});

describe('keys of the playback', () => {
  it('go by seconds, with Shift by a minute', () => {
    expect(deedOf('ArrowRight', false)).toEqual({ kind: 'move', by: 5_000 });
    expect(deedOf('ArrowLeft', true)).toEqual({ kind: 'move', by: -MINUTE });
    expect(deedOf('PageDown', false)).toEqual({ kind: 'move', by: -MINUTE });
  });

  it('play, pause, and go to the ends', () => {
    expect(['Home', 'End', ' '].map((key) => deedOf(key, false)?.kind)).toEqual([
      'begin',
      'end',
      'toggle',
    ]);
  });

  it('mean nothing otherwise', () => {
    expect(['Enter', 'Escape', 'a', 'Tab'].map((key) => deedOf(key, false))).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });
});

describe('a refusal', () => {
  it('is read from the answer, with faults or without', () => {
    const refusal = { code: 'faulty-file', text: 'One fault was found.' };
    expect(refusalIn({ ok: false, refusal })).toBe(refusal.text);
    expect(refusalIn({ ok: false, refusal, faults: [{}] })).toBe(refusal.text);
  });

  it('is said to be missing where there is none', () => {
    for (const body of [null, 'x', {}, { refusal: 3 }])
      expect(refusalIn(body)).toMatch(/no reason/);
  });
});
