import type { LayoutFile } from '../layout/layout-file.js';
import { block, bufferStop, detection, layoutOf, station, turnout } from './layout-parts.js';
import { SessionDriver } from './session-driver.js';
import { locomotive, stockOf, train } from './stock-parts.js';
import { service, timetableOf } from './timetable-parts.js';

/** A train that runs to and fro between West and East, from a track of one of them. */
export interface Shuttle {
  /** `W1` to `W3`, `E1` to `E3`. */
  readonly from: string;
  readonly runs: number;
  readonly priority: number;
  /** When runs after the first are booked to leave, and to arrive; left out: as the first, at once. */
  readonly later?: readonly [string, string];
}

const divided = (id: string): ReturnType<typeof block> => {
  const name = id.toLowerCase();
  return block(id, 1200, {
    detection: detection([`${name}x`, 300], [`${name}y`, 600], [`${name}z`, 300]),
  });
};

/**
 * A single line with one passing loop between two stations of three tracks:
 *
 *     W1 W2 W3 ═ L ═ M / S ═ R ═ E1 E2 E3
 */
const layout = (): LayoutFile => {
  const tracks = ['W1', 'W2', 'W3', 'E1', 'E2', 'E3'];
  return layoutOf(
    [
      ...tracks.map((it) => bufferStop(`X${it}`)),
      ...[...tracks, 'L', 'M', 'S', 'R'].map(divided),
      ...['TW1', 'TW2', 'TL', 'TR', 'TE1', 'TE2'].map((it) => turnout(it)),
    ],
    [
      ...tracks.map((it) => `X${it}.a ${it}.a`),
      'TW1.straight W1.b',
      'TW1.diverging TW2.stem',
      'TW2.straight W2.b',
      'TW2.diverging W3.b',
      'TW1.stem L.a',
      'L.b TL.stem',
      'TL.straight M.a',
      'TL.diverging S.a',
      'M.b TR.straight',
      'S.b TR.diverging',
      'TR.stem R.a',
      'R.b TE1.stem',
      'TE1.straight E1.b',
      'TE1.diverging TE2.stem',
      'TE2.straight E2.b',
      'TE2.diverging E3.b',
    ],
    {
      stations: [
        station('West', 0, ['W1'], ['W2'], ['W3']),
        station('East', 4, ['E1'], ['E2'], ['E3']),
      ],
    },
  );
};

/** A running session of shuttles that all want to go at once and again as soon as they have arrived. */
export function greedyShuttles(shuttles: readonly Shuttle[]): SessionDriver {
  const services = shuttles.flatMap(({ from, runs, later }, train) =>
    Array.from({ length: runs }, (_, run) => {
      const [here, there] =
        from.startsWith('W') === (run % 2 === 0) ? ['West', 'East'] : ['East', 'West'];
      const [depart, arrive] = (run === 0 ? undefined : later) ?? ['09:00', '09:01'];
      return service(`S${train}-${run}`, `${here} - ${depart}`, `${there} ${arrive} -`);
    }),
  );
  const driver = new SessionDriver(
    layout(),
    stockOf(
      shuttles.map((_, index) => locomotive(`L${index}`, index + 1)),
      [],
      shuttles.map(({ priority }, index) =>
        train(`T${index}`, `L${index}`, { canReverse: true, priority }),
      ),
    ),
    timetableOf(
      services,
      Object.fromEntries(
        shuttles.map(({ runs }, train) => [
          `T${train}`,
          Array.from({ length: runs }, (_, run) => `S${train}-${run}`).join(' '),
        ]),
      ),
      Object.fromEntries(shuttles.map(({ from }, train) => [`T${train}`, `${from}>b`])),
    ),
  );
  driver.lineUp(...shuttles.map(({ from }) => `${from.toLowerCase()}y`));
  shuttles.forEach(({ from }, index) => driver.report(`${from.toLowerCase()}y`, index + 1));
  driver.wait(10);
  const refused = driver.command({ kind: 'start' });
  if (refused !== null) throw new Error(`refused: ${refused}`);
  return driver;
}
