import { compileWorld, createSession, step, type Input } from '@blockbell/railway';
import type { Restart } from '@blockbell/rehearsal';
import { describe, expect, it } from 'vitest';
import { Chance } from '../support/chance.js';
import { cameToItsEnd, expectUnharmed, SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { bookedLength } from '../support/fault-cases.js';
import { exampleRailway, smallRailway, type Railway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';

/** Inputs of so many ms at most had not reached the disk. */
const MOST_LOST = 500;

interface Case {
  readonly name: string;
  readonly railway: Railway;
  readonly seed: number;
  readonly restarts: readonly Restart[];
}

/** One to three restarts at any moment of a session, before the line-up and in the midst of the next line-up too. */
function caseOf(where: string, railway: Railway, seed: number, mostLost: number): Case {
  const chance = new Chance(seed * 7919 + mostLost);
  const length = bookedLength(railway);
  const restarts = Array.from({ length: chance.between(1, 3) }, () => ({
    at: chance.below(length),
    lost: chance.between(0, mostLost),
  }));
  const first = restarts[0]!;
  if (seed % 3 === 0) restarts.push({ at: first.at + chance.between(1, 12_000), lost: first.lost });
  const moments = restarts.map(({ at, lost }) => `${at}−${lost}`).join(', ');
  return { name: `${where}, seed ${seed}: ${moments}`, railway, seed, restarts };
}

const cases = (mostLost: number): Case[] => [
  ...[1, 2, 3, 4, 5, 6].map((seed) => caseOf('demo', exampleRailway('demo'), seed, mostLost)),
  ...[11, 12, 13, 14, 15, 16].map((seed) =>
    caseOf('passing loop', exampleRailway('passing-loop'), seed, mostLost),
  ),
  ...Array.from({ length: 12 }, (_, index) =>
    caseOf('generated', smallRailway(new Chance(index)), 20 + index, mostLost),
  ),
];

describe('a session whose program is killed and started again', () => {
  it.each(cases(0))(
    'is unharmed with everything written down, $name',
    ({ railway, seed, restarts }) => {
      expectUnharmed(rehearse(railway, { seed, restarts }));
    },
    SESSION_TIMEOUT,
  );

  it.each(cases(MOST_LOST))(
    'breaks no rule of safety though its last inputs are lost, $name',
    ({ railway, seed, restarts }) => {
      const report = rehearse(railway, { seed, restarts });
      expect({ broken: report.violations.broken, ...cameToItsEnd(report) }).toEqual({
        broken: [],
        ended: true,
        notRun: [],
      });
    },
    SESSION_TIMEOUT,
  );

  // Each of these once had a train taken for confirmed that had run on, or stood astride two blocks.
  it.each([
    [
      'generated',
      4,
      [
        { at: 269633, lost: 14719 },
        { at: 97241, lost: 4829 },
        { at: 173925, lost: 14706 },
      ],
    ],
    [
      'generated',
      6,
      [
        { at: 220065, lost: 6976 },
        { at: 352803, lost: 7918 },
      ],
    ],
    [
      'generated',
      22,
      [
        { at: 541905, lost: 8617 },
        { at: 255632, lost: 3716 },
      ],
    ],
    [
      'passing loop',
      3,
      [
        { at: 144912, lost: 8479 },
        { at: 518848, lost: 19862 },
        { at: 377376, lost: 19177 },
      ],
    ],
    ['passing loop', 9, [{ at: 144433, lost: 15914 }]],
  ] as const)(
    'takes no train for confirmed where it does not stand, whatever was lost, %s %i',
    (where, seed, restarts) => {
      const railway =
        where === 'generated' ? smallRailway(new Chance(seed)) : exampleRailway('passing-loop');
      const { violations } = rehearse(railway, { seed: 500 + seed, restarts });
      // How far inside its own block a train stands beyond the fouling point, no detector tells.
      const { layout, stock, timetable } = railway;
      const most = Math.max(...compileWorld(layout, stock, timetable).foulingAhead);
      const beyond = ({ text }: { readonly text: string }): number =>
        Number(/stands (\d+) mm beyond its limit$/.exec(text)?.[1] ?? Infinity);
      expect(violations.broken.filter((each) => beyond(each) > most)).toEqual([]);
    },
    SESSION_TIMEOUT,
  );

  it.each(cases(0).filter((_, index) => index % 6 === 0))(
    'has the state that its inputs lead to in a fresh engine, $name',
    ({ railway, seed, restarts }) => {
      const inputs: Input[] = [];
      let last = '';
      rehearse(railway, {
        seed,
        restarts,
        watch: ({ state }, input) => {
          inputs.push(input);
          if (input.kind === 'started-again') last = JSON.stringify(state);
        },
      });
      const world = compileWorld(railway.layout, railway.stock, railway.timetable);
      const state = createSession(world);
      let again = '';
      for (const input of inputs) {
        step(world, state, input);
        if (input.kind === 'started-again') again = JSON.stringify(state);
      }
      expect(last).not.toBe('');
      expect(again).toBe(last);
    },
    SESSION_TIMEOUT,
  );
});
