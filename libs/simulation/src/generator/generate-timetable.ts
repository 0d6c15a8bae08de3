import type { LayoutFile, ServiceFile, StockFile, TimetableFile } from '@blockbell/railway/track';
import { nextBetween, nextChance, type RandomStream } from '../random.js';
import { lineBlockLength } from './draw-line.js';
import { trackNames, type StationSite } from './draw-station.js';
import { clockText, minutesOf, service, stored, working, type Stop } from './service-times.js';
import type { TrainPlan } from './train-plan.js';

const START = '06:00';
const RATIO = 6;
/** Trains run on average at this share of their top speed, in percent, and lose this much at a stop, in ms. */
const AVERAGE_PERCENT = 60;
const STOP_LOSS = 6000;
const LONGEST_SPREAD = 40;
const PASS_PERMILLE = 400;
const DWELL = { fast: 60, real: 5 };

/** Services and workings of the plans; times come from the distances, without regard to other trains. */
export function generateTimetable(
  layout: LayoutFile,
  stock: StockFile,
  sites: readonly StationSite[],
  plans: readonly TrainPlan[],
  random: RandomStream,
): TimetableFile {
  const worked = plans.map((plan, index) => {
    const speed = stock.locomotives[index]?.topSpeed ?? 0;
    return workOf(plan, `${index + 1}`, sites, speed, plans.length, random);
  });
  const services = worked.flat();
  const last = services.reduce(
    (latest, { calls }) => Math.max(latest, minutesOf(calls.at(-1)?.arrive ?? START)),
    minutesOf(START),
  );
  return {
    kind: 'blockbell-timetable',
    version: 1,
    id: `${layout.id}-timetable`,
    name: `Session of ${layout.id}`,
    layout: layout.id,
    stock: stock.id,
    day: 'Monday',
    clock: { start: START, end: clockText(last + 60), ratio: RATIO },
    services,
    connections: [],
    workings: worked.flatMap((own, index) =>
      own.length === 0
        ? []
        : [
            working(
              `W${index + 1}`,
              `T${index + 1}`,
              own.map(({ id }) => id),
            ),
          ],
    ),
    storedPlaces: plans.map((plan, index) => {
      const block = trackNames(siteAt(sites, plan.home))[plan.track] ?? '';
      return stored(
        `T${index + 1}`,
        block,
        (plan.stops[0] ?? plan.home + 1) > plan.home ? 'b' : 'a',
      );
    }),
  };
}

/** The services of one train, from home to one stop after the other. */
function workOf(
  plan: TrainPlan,
  number: string,
  sites: readonly StationSite[],
  topSpeed: number,
  trains: number,
  random: RandomStream,
): readonly ServiceFile[] {
  let minute = minutesOf(START) + 2 + nextBetween(random, 0, Math.min(LONGEST_SPREAD, 2 * trains));
  let from = plan.home;
  return plan.stops.map((to, index) => {
    const stops = stopsBetween(sites, from, to, topSpeed, random);
    const name = `Train ${number}, trip ${index + 1}`;
    const result = service(`V${number}-${index + 1}`, name, clockText(minute), stops);
    minute += (stops.at(-1)?.arrive ?? 0) + nextBetween(random, 5, 12);
    from = to;
    return result;
  });
}

function stopsBetween(
  sites: readonly StationSite[],
  from: number,
  to: number,
  topSpeed: number,
  random: RandomStream,
): readonly Stop[] {
  const step = to > from ? 1 : -1;
  const stops: Stop[] = [{ station: siteAt(sites, from).name, depart: 0 }];
  let minute = 0;
  for (let index = from + step; index !== to + step; index += step) {
    const site = siteAt(sites, index);
    minute += runningMinutes(site, step === 1 ? site.west : site.east, topSpeed);
    const place = { station: site.name, ...tracksTowards(site, step) };
    if (index === to) {
      stops.push({ ...place, arrive: minute });
    } else if (nextChance(random, PASS_PERMILLE)) {
      stops.push({ ...place, depart: minute, pass: true });
    } else {
      stops.push({ ...place, arrive: minute, depart: minute + 2, dwell: DWELL });
      minute += 2;
    }
  }
  return stops;
}

/** At a wayside station each way has its own tracks, the straight one first; elsewhere any will do. */
function tracksTowards(site: StationSite, step: 1 | -1): Pick<Stop, 'tracks'> {
  if (site.station.kind !== 'wayside') return {};
  const [westLoop = '', west = '', east = '', eastLoop = ''] = trackNames(site);
  return { tracks: step === 1 ? [east, eastLoop] : [west, westLoop] };
}

/** Fast-clock minutes over the line to the station and into it. */
function runningMinutes(site: StationSite, line: StationSite['west'], topSpeed: number): number {
  const length =
    site.station.trackLength + (line === null ? 0 : line.blocks * lineBlockLength(line));
  const physical = (length * 1000 * 100) / (topSpeed * AVERAGE_PERCENT) + STOP_LOSS;
  return Math.ceil((physical * RATIO) / 60000) + 1;
}

function siteAt(sites: readonly StationSite[], index: number): StationSite {
  const site = sites[index];
  if (site === undefined) throw new Error(`there is no station ${index}`);
  return site;
}
