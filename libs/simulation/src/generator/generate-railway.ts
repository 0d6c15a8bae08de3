import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway/track';
import { forkStream } from '../random.js';
import { generateLayout, sitesOf } from './generate-layout.js';
import { generateStock } from './generate-stock.js';
import { generateTimetable } from './generate-timetable.js';
import { planRailway } from './railway-plan.js';
import { planTrains } from './train-plan.js';

export interface GeneratorOptions {
  readonly seed: number;
  /** Detection sections of the layout, exactly: 10 to 10,000. */
  readonly sections: number;
  readonly trains: number;
  /** Least share of the line's blocks, counted along the way, that lie on single track: 0 to 1. */
  readonly singleLineShare: number;
  /**
   * Services altogether; trains get as equal a number as can be, none or at least two. A train with one place to
   * go to makes an even number.
   */
  readonly services: number;
  /** Whether both ends lead into balloon loops; default: from 80 sections on. */
  readonly balloonLoops?: boolean;
}

export interface GeneratedRailway {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

const FEWEST_SECTIONS = 10;
const MOST_SECTIONS = 10_000;
const BALLOONS_FROM = 80;
const SCALE_RATIO = 87;

/**
 * A random railway that is valid by construction, with stock and a timetable whose start is safe. The same
 * options give the same files. Throws a RangeError for options outside their range, or for more trains than
 * the stations have room for (one in thirty sections always fits).
 */
export function generateRailway(options: GeneratorOptions): GeneratedRailway {
  const { seed, sections, trains, services, singleLineShare } = options;
  if (sections < FEWEST_SECTIONS || sections > MOST_SECTIONS) {
    throw new RangeError(
      `sections must be ${FEWEST_SECTIONS} to ${MOST_SECTIONS}, not ${sections}`,
    );
  }
  if (singleLineShare < 0 || singleLineShare > 1) {
    throw new RangeError(`singleLineShare must be 0 to 1, not ${singleLineShare}`);
  }
  const balloonLoops = options.balloonLoops ?? sections >= BALLOONS_FROM;
  const id = `generated-${seed}-${sections}`;
  const plan = planRailway({ sections, singleLineShare, balloonLoops }, forkStream(seed, 'plan'));
  const sites = sitesOf(plan);
  const trainPlans = planTrains(sites, trains, services, forkStream(seed, 'trains'));
  const layout = generateLayout(id, plan, SCALE_RATIO, forkStream(seed, 'layout'));
  const stock = generateStock(id, trainPlans, forkStream(seed, 'stock'));
  const timetable = generateTimetable(
    layout,
    stock,
    sites,
    trainPlans,
    forkStream(seed, 'timetable'),
  );
  return { layout, stock, timetable };
}
