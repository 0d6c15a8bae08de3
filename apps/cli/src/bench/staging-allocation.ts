import { forkStream, nextBetween, type RandomStream } from '@blockbell/simulation';
import { allocate, type Berth, type Yard } from '@blockbell/staging';
import { performance } from 'node:perf_hooks';
import { numberText, type Benchmark } from './report.js';

const TRACKS = 40;
const TRAINS = 60;
const MINUTE = 60_000;
const DAY = 24 * 60;
/** How a yard is filled: by stays that come and go all day, or with all arrivals before all departures. */
const KINDS = ['all day', 'in, then out'] as const;

export const stagingAllocation: Benchmark = {
  name: 'staging',
  measure({ quick, tell }) {
    const yards = quick ? 5 : 40;
    const rows = KINDS.map((kind) => {
      tell(`yards filled ${kind}`);
      return { kind, ...measured(kind, yards) };
    });
    const slowest = Math.max(...rows.map(({ times }) => times.at(-1)!));
    const proven = rows.reduce((sum, row) => sum + row.proven, 0);
    return {
      name: 'staging',
      title: 'Allocation of a staging yard',
      about:
        `Milliseconds to give ${TRAINS} trains their places in ${TRACKS} tracks, every second a dead-end track, each for three trains, with trains of one ` +
        `or two places’ length; ${yards} yards of each kind. “Proven”: nothing less harmful exists.`,
      columns: [
        'filled',
        'yards',
        'median ms',
        'slowest ms',
        'proven',
        'without a track',
        'in the way',
      ],
      rows: rows.map(({ kind, times, proven: sure, unplaced, burials }) => [
        kind,
        ...[
          yards,
          times[Math.floor(times.length / 2)]!,
          times.at(-1)!,
          sure,
          unplaced,
          burials,
        ].map(numberText),
      ]),
      figures: [
        { what: 'slowest allocation', value: slowest, unit: 'ms', target: { most: 1000 } },
        {
          what: 'share of yards with a proven allocation',
          value: (100 * proven) / (yards * KINDS.length),
          unit: '%',
          target: { least: 100 },
        },
      ],
    };
  },
};

function measured(kind: (typeof KINDS)[number], yards: number) {
  const times: number[] = [];
  let proven = 0;
  let unplaced = 0;
  let burials = 0;
  for (let seed = 1; seed <= yards; seed++) {
    const yard = drawnYard(kind, forkStream(seed, `yard ${kind}`));
    const began = performance.now();
    const allocation = allocate(yard);
    times.push(performance.now() - began);
    proven += allocation.proven ? 1 : 0;
    unplaced += allocation.unplaced.length;
    burials += allocation.burials.length;
  }
  return { times: times.sort((a, b) => a - b), proven, unplaced, burials };
}

function drawnYard(kind: (typeof KINDS)[number], chance: RandomStream): Yard {
  const tracks = Array.from({ length: TRACKS }, (_, track) => ({ id: `${track + 1}`, room: 3 }));
  return {
    tracks,
    stays: Array.from({ length: TRAINS }, (_, train) => {
      const [arrive, depart] = span(kind, chance);
      const needs = nextBetween(chance, 1, 2);
      const berths = tracks.map(({ id }, track): Berth => {
        const out = Number(id) % 2 === 0 ? 'a' : 'b';
        return { track, in: 'a', out, needs, cost: 0 };
      });
      return { id: `${train + 1}`, arrive: arrive * MINUTE, depart: depart * MINUTE, berths };
    }),
  };
}

function span(kind: (typeof KINDS)[number], chance: RandomStream): readonly [number, number] {
  if (kind === 'in, then out')
    return [nextBetween(chance, 0, DAY), DAY + nextBetween(chance, 1, DAY)];
  const arrive = nextBetween(chance, 0, DAY);
  return [arrive, arrive + nextBetween(chance, 30, DAY / 2)];
}
