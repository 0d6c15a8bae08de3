import type { ElementView, SignalView } from '@blockbell/contract/messages';
import { describe, expect, it } from 'vitest';
import { mergeRows, noRows } from '../live/live-rows.js';
import { trainRow } from '../testing/train-row.js';
import type { LampSpot } from './lamp-spots.js';
import { LitLamps } from './lit-lamps.js';

/** Blocks 0 and 1 have a signal at each end: headings 0 and 1, 2 and 3. */
const spots = [0, 1, 2, 3].map((heading): LampSpot => ({
  heading,
  name: `S${heading}`,
  at: [heading * 100, 50],
  angle: 0,
  roomy: true,
}));
const SCALE = 10;
const stop = (heading: number): SignalView => ({ heading, aspect: 'stop' });
const held = (element: number, holder: number) => ({ element, holder }) as ElementView;
const on = (element: number, to: string) => ({ element, from: '', to, start: 0, end: 10 });

describe('signals that say something', () => {
  it('are those that show more than stop, and those at stop that a train is coming to', () => {
    const rows = noRows();
    mergeRows(rows, { signals: spots.map(({ heading }) => stop(heading)) });
    const lamps = new LitLamps(spots, SCALE, rows);
    const middles = () => lamps.take().map(({ x, width }) => x + width / 2);
    expect(middles()).toEqual([]);
    mergeRows(rows, { signals: [{ heading: 2, aspect: 'proceed' }] });
    expect(middles()).toEqual([200]);
    mergeRows(rows, {
      elements: [held(0, 7)],
      trains: [trainRow({ train: 7, path: [on(0, 'b')] })],
    });
    expect(middles().toSorted()).toEqual([0, 200]);
    // It turns round where it stands: nothing but its path says so.
    mergeRows(rows, { trains: [{ train: 7, path: [on(0, 'a')] }] });
    expect(middles().toSorted()).toEqual([100, 200]);
    mergeRows(rows, {
      signals: [stop(2)],
      elements: [held(0, -1)],
      trains: [{ train: 7, path: [] }],
    });
    expect(middles()).toEqual([]);
  });

  it('are the same array until one comes or goes', () => {
    const rows = noRows();
    const lamps = new LitLamps(spots, SCALE, rows);
    const before = lamps.take();
    mergeRows(rows, { signals: [stop(3)] });
    expect(lamps.take()).toBe(before);
    mergeRows(rows, { signals: [{ heading: 3, aspect: 'caution' }] });
    const lit = lamps.take();
    expect(lit).toHaveLength(1);
    mergeRows(rows, { signals: [{ heading: 3, aspect: 'proceed' }] });
    expect(lamps.take()).toBe(lit);
  });
});
