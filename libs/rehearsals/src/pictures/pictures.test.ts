import { exampleFiles } from '@blockbell/examples';
import type { LayoutFile } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { meanText } from '../export/words.js';
import type { RehearsalReport } from '../report/report.js';
import { latenessPicture } from './lateness.js';
import { heatPicture } from './track-heat.js';
import { waitsPicture } from './waits.js';

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
