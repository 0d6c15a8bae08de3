import { exampleFiles } from '@blockbell/examples';
import type { LayoutFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { meanText } from '../export/words.js';
import type { RehearsalReport } from '../report/report.js';
import { latenessPicture } from './lateness.js';
import { heatPicture } from './track-heat.js';
import { waitsPicture } from './waits.js';
import { yardsPicture } from './yards.js';

const layout = JSON.parse(exampleFiles('passing-loop').layout) as LayoutFile;
const waiting = (place: string) =>
  ({
    waits: {
      byPlace: [{ element: 'P1', place, perSession: 3, for: [{ train: '3', perSession: 3 }] }],
      byTrain: [],
    },
  }) as unknown as RehearsalReport;

/** What is written on a picture, without its hints. */
const written = (svg: string): string[] =>
  [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, words]) => words!);

describe('the pictures', () => {
  it('leave names room, and the ends by which slots of a track are told apart', () => {
    const [first, second] = ['D1x', 'D1y'].map((slot) =>
      written(waitsPicture(waiting(`Cellar with a rather long name, ${slot}`))),
    );
    expect(first).not.toEqual(second);
    for (const words of [...first!.slice(1), ...second!.slice(1)])
      expect(words.length).toBeLessThanOrEqual(26);
  });

  it('say how many slots a yard has, and in how many tracks', () => {
    const headOf = (slots: number, tracks: number): string => {
      const sample = { mean: 1, p10: 0, median: 1, p90: 2, most: 2 };
      const samples = [0, 60_000].map((fast) => ({ ...sample, fast }));
      const yard = { station: 'y', name: 'Cellar', tracks, slots, samples };
      return written(yardsPicture({ yards: [yard] } as unknown as RehearsalReport))[0]!;
    };
    expect(headOf(6, 3)).toBe('Cellar: trains standing in it (6 slots in 3 tracks)');
    expect(headOf(3, 3)).toBe('Cellar: trains standing in it (3 tracks)');
    expect(headOf(2, 1)).toBe('Cellar: trains standing in it (2 slots in 1 track)');
  });

  it('name the stations on the track diagram', () => {
    const words = written(heatPicture(waiting('Pennick 1'), layout));
    expect(words).toEqual(expect.arrayContaining(['Lowmarsh', 'Pennick', 'Highmarsh', '3.0 min']));
  });

  it('write a minus, not a hyphen', () => {
    const report = {
      histogram: [
        { from: null, to: -5, count: 1 },
        { from: -5, to: null, count: 2 },
      ],
      lateness: { count: 3, median: -6, p90: 0 },
    } as unknown as RehearsalReport;
    expect(written(latenessPicture(report))).toContain('−5');
    expect(latenessPicture(report).replaceAll(/<[^t][^>]*>/g, '')).not.toMatch(/-\d/);
    expect(meanText({ mean: -1.5, low: -2, high: -0.01 }, 'min')).toBe('−1.5 min (−2.0 to 0.0)');
  });
});
