import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { forkStream, generateRailway, nextBetween, type RandomStream } from '@blockbell/simulation';
import { FAULT_LEVELS, type FaultLevel } from './fault-rates.js';

/** One session of an endurance run: everything else follows from it and from the demo's files. */
export interface SessionRequest {
  readonly seed: number;
  /** From 0 on. Every fifth is the demo, the others are railways generated for them. */
  readonly number: number;
  readonly level: FaultLevel | 'mixed';
  /** Percent of locomotives whose decoder never answers; null: as the railway's stock has it, or any share. */
  readonly silent: number | null;
  /** Whether people close track, drive by hand and take ways back meanwhile, and the program is killed and started again. */
  readonly people?: boolean;
}

/** The three files of a session. */
export interface RailwayFiles {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

/** A request made out: what runs, with which chance, and what goes wrong. */
export interface EndureCase extends RailwayFiles {
  readonly isDemo: boolean;
  readonly level: FaultLevel;
  /** Chance of the simulated layout and of the faults. */
  readonly seed: number;
}

const DEMO_EVERY = 5;
const LEAST_TRAINS = 6;
const MOST_TRAINS = 9;
/** Sections for each train, at least and at most. */
const ROOM = [33, 50] as const;
/** Of ten mixed sessions so many run with the faults of each level. */
const MIXTURE: Readonly<Record<FaultLevel, number>> = { none: 1, ordinary: 4, hard: 2, brutal: 3 };
/** Of ten sessions of which nothing else was asked so many keep the decoders that their stock has. */
const AS_IT_IS = 5;
const SHARES = [0, 25, 50, 75, 100];

export function endureCase(request: SessionRequest, demo: RailwayFiles): EndureCase {
  const { seed, number } = request;
  const chance = forkStream(seed, `session ${number}`);
  const own = nextBetween(chance, 0, 0x7fff_ffff);
  const level = request.level === 'mixed' ? anyLevel(chance) : request.level;
  const isDemo = number % DEMO_EVERY === 0;
  const files = isDemo ? demo : generated(own, forkStream(seed, `railway ${number}`));
  const shares = forkStream(seed, `silent ${number}`);
  const silent = request.silent ?? anyShare(shares);
  const stock = silent === null ? files.stock : withSilent(files.stock, silent, shares);
  return { ...files, stock, isDemo, level, seed: own };
}

/** A railway that nobody drew, with six trains or more and four or five services for each. */
function generated(seed: number, chance: RandomStream): RailwayFiles {
  const trains = nextBetween(chance, LEAST_TRAINS, MOST_TRAINS);
  return generateRailway({
    seed,
    trains,
    sections: nextBetween(chance, ROOM[0] * trains, ROOM[1] * trains),
    singleLineShare: nextBetween(chance, 30, 100) / 100,
    services: trains * 4 + nextBetween(chance, 0, trains),
  });
}

function anyLevel(chance: RandomStream): FaultLevel {
  let at = nextBetween(chance, 1, 10);
  return FAULT_LEVELS.find((level) => (at -= MIXTURE[level]) <= 0)!;
}

const anyShare = (chance: RandomStream): number | null =>
  nextBetween(chance, 1, 10) <= AS_IT_IS
    ? null
    : SHARES[nextBetween(chance, 0, SHARES.length - 1)]!;

/** The stock with that share of its decoders silent, and all others answering. */
function withSilent(stock: StockFile, percent: number, chance: RandomStream): StockFile {
  const drawn = stock.locomotives.map(({ id }) => ({ id, lot: nextBetween(chance, 0, 1_000_000) }));
  drawn.sort((a, b) => a.lot - b.lot || (a.id < b.id ? -1 : 1));
  const count = Math.round((drawn.length * percent) / 100);
  const silent = new Set(drawn.slice(0, count).map(({ id }) => id));
  const locomotives = stock.locomotives.map((each) => ({ ...each, answers: !silent.has(each.id) }));
  return { ...stock, locomotives };
}
