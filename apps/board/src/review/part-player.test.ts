import type { RecordingPart, SectionView } from '@blockbell/contract/messages';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { noRows } from '../live/live-rows.js';
import { trainRow } from '../testing/train-row.js';
import { PartPlayer } from './part-player.js';

/** A train whose mark says the second: one delta a second, and another train that comes at the third. */
function part(number: number, from: number): RecordingPart {
  const epoch = 'session-1.1';
  const snapshot = {
    epoch,
    revision: from,
    now: from * 1_000,
    rows: { trains: [trainRow({ train: 0, mark: from })] },
  };
  const deltas = [1, 2, 3, 4, 5].map((second) => ({
    epoch,
    from: from + second - 1,
    revision: from + second,
    now: (from + second) * 1_000,
    rows: {
      trains: [
        { train: 0, mark: from + second },
        ...(second === 3 ? [trainRow({ train: 1 })] : []),
      ],
    },
  }));
  return { part: number, run: 1, snapshot, deltas };
}

const parts = [part(0, 0), part(1, 5), part(2, 10)];

it('shows the same rows at a moment, whatever was shown before', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 15_900 }), { minLength: 1 }), (moments) => {
      const rows = noRows();
      const player = new PartPlayer(rows);
      for (const at of moments) {
        const index = Math.min(2, Math.floor(at / 5_000));
        player.show(parts[index]!, at);
        expect(rows.trains.get(0)?.mark).toBe(Math.min(15, Math.floor(at / 1_000)));
        expect(rows.trains.has(1)).toBe(at >= index * 5_000 + 3_000);
      }
    }),
  );
});

it('leaves alone what was the same then, going back in a part and to another', () => {
  const rows = noRows();
  const player = new PartPlayer(rows);
  const [first, second] = [part(0, 0), part(1, 5)].map(({ snapshot, ...rest }) => {
    const section = { section: 4, occupied: true, identity: null } as unknown as SectionView;
    return { ...rest, snapshot: { ...snapshot, rows: { ...snapshot.rows, sections: [section] } } };
  });
  player.show(second!, 8_000);
  const watch = rows.sections.watch();
  player.show(second!, 6_000);
  player.show(first!, 3_000);
  const other = rows.trains.get(1);
  player.show(first!, 5_000);
  player.show(first!, 4_000);
  expect(rows.trains.get(0)?.mark).toBe(4);
  expect(rows.trains.get(1)).toBe(other);
  expect([...watch.take()]).toEqual([]);
});
