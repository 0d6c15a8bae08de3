import { describe, expect, it } from 'vitest';
import { runRecorded } from '../testing/run-recorded.js';

describe('blockbell return', () => {
  it('prints the moves that bring two trains back that stand in each other’s place, and that all stand as they began', async () => {
    const { exit, out } = await runRecorded('return', '--example', 'passing-loop', '--quiet');
    expect(exit).toBe(0);
    const lines = out.split('\n');
    expect(lines[0]).toMatch(
      /^Return to start: 3 moves, about \d+ min \d+ s, 0 trains there already$/,
    );
    expect(lines.filter((line) => line.includes('where it began'))).toHaveLength(2);
    expect(lines.at(-1)).toBe('All 2 trains stand as the session began.');
  });

  it('says the same as JSON', async () => {
    const { out } = await runRecorded('return', '--example', 'passing-loop', '--quiet', '--json');
    const told = JSON.parse(out) as {
      plans: { moves: { stage: string }[]; left: unknown[] }[];
      elsewhere: string[];
    };
    expect(told.plans[0]!.moves.map(({ stage }) => stage)).toEqual(['made', 'made', 'made']);
    expect(told).toMatchObject({ elsewhere: [], violations: 0, ended: true });
  });

  it('refuses a fault that the layout has not', async () => {
    const { exit, err } = await runRecorded(
      'return',
      '--example',
      'passing-loop',
      '--fault',
      'nothing@1:train=T1',
    );
    expect(exit).toBeGreaterThan(0);
    expect(err).toContain('nothing');
  });
});
