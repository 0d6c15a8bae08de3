import { disturbancesSchema } from '@blockbell/contract/messages';
import { describe, expect, it } from 'vitest';
import { choicesIn, DISTRIBUTIONS, fileOf, PARAMETERS, respread } from './disturbance-choices.js';

const file = disturbancesSchema.parse({
  kind: 'blockbell-disturbances',
  version: 1,
  name: 'chosen on the board',
  lateStarts: { share: 30, by: { kind: 'exponential', mean: 120, most: 900 } },
  turnoutFailures: { perHour: 2, lasts: { kind: 'uniform', least: 5, most: 15 } },
});

describe('the choices of what goes wrong', () => {
  it('are those of a file, and make that file again', () => {
    const choices = choicesIn(file);
    expect(choices.filter(({ happens }) => happens).map(({ kind, rate }) => [kind, rate])).toEqual([
      ['lateStarts', 30],
      ['turnoutFailures', 2],
    ]);
    expect(fileOf(choices)).toEqual({ file });
  });

  it('say what is wrong with one, and where', () => {
    const choices = choicesIn(file).map((each) =>
      each.kind === 'turnoutFailures'
        ? { ...each, distribution: { kind: 'uniform', least: 9, most: 5 } as const }
        : each,
    );
    expect(fileOf(choices)).toEqual({
      wrong: 'Turnouts that fail: most is below least. Put it right, or leave it out.',
    });
  });

  it.each(Object.keys(DISTRIBUTIONS) as (keyof typeof DISTRIBUTIONS)[])(
    'spread as %s are sound and have all that they are told by',
    (kind) => {
      const spread = respread({ kind: 'uniform', least: 10, most: 50 }, kind);
      expect(Object.keys(spread).sort()).toEqual(['kind', ...PARAMETERS[kind]].sort());
      const [late, ...rest] = choicesIn(file);
      expect(fileOf([{ ...late!, distribution: spread }, ...rest])).toHaveProperty('file');
    },
  );
});
