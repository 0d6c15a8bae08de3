import { fault, placeOf } from '../../faults/fault.js';
import type { Fault } from '../../faults/fault.js';
import { headingOf } from '../../layout/layout.js';
import type { ElementIndex, Heading, Layout, Station } from '../../layout/layout.js';
import { fitsTrack, standingRoom } from '../../layout/standing-room.js';
import type { Stock, Train } from '../../stock/train.js';
import { stationsById, tracksOf } from '../compile-timetable.js';
import type { CallFile, ServiceFile, TimetableFile } from '../timetable-file.js';
import { callPlace } from './calls.js';
import { eitherWay, reachFrom } from './reach.js';

/**
 * Whether each train can run its work at all, alone on the railway: every stop has a track that holds it, and a
 * permitted way leads there from wherever it may stand before. Turning round happens at stops only, and only for
 * trains that may run with their rear leading.
 */
export function checkWays(file: TimetableFile, layout: Layout, stock: Stock): Fault[] {
  const services = new Map<string, ServiceFile>(file.services.map((it) => [it.id, it]));
  const stations = stationsById(layout);
  return file.workings.flatMap((working) => {
    const train = stock.trains[stock.trainByName.get(working.train) ?? -1];
    const stored = file.storedPlaces.find((it) => it.train === working.train);
    const block = layout.elementByName.get(stored?.block ?? '');
    if (train === undefined || stored === undefined || block === undefined) return [];

    const faults: Fault[] = [];
    let standing: ReadonlySet<Heading> = new Set([headingOf(block, stored.towards)]);
    for (const id of working.services) {
      const service = services.get(id);
      if (service === undefined) continue;
      const place = placeOf('services', file.services.indexOf(service), id);
      const outcome = alongService({ service, place, train, layout, stations }, standing);
      faults.push(...outcome.faults);
      standing = outcome.standing;
    }
    return faults;
  });
}

/** Whether a train that may stand in any track where a service begins can run it, alone on the railway. */
export function checkWayOf(
  service: ServiceFile,
  place: string,
  train: Train,
  layout: Layout,
): readonly Fault[] {
  const stations = stationsById(layout);
  const [call] = service.calls;
  const station = stations.get(call?.station ?? '');
  if (call === undefined || station === undefined) return [];
  const standing = headingsAt({ call, station, train, layout }, true);
  if (standing.size === 0) {
    return [
      fault(
        callPlace(place, call, 0),
        `${train.file.id} is ${train.length} mm long and fits none of the tracks`,
        'name a longer track, or shorten the train',
      ),
    ];
  }
  return alongService({ service, place, train, layout, stations }, standing).faults;
}

interface ServiceOfTrain {
  readonly service: ServiceFile;
  readonly place: string;
  readonly train: Train;
  readonly layout: Layout;
  readonly stations: ReadonlyMap<string, Station>;
}

function alongService(
  { service, place, train, layout, stations }: ServiceOfTrain,
  from: ReadonlySet<Heading>,
): Outcome {
  const faults: Fault[] = [];
  let standing = from;
  service.calls.forEach((call, index) => {
    const station = stations.get(call.station);
    if (station === undefined) return;
    const where = callPlace(place, call, index);
    const at: CallAt = { call, station, train, layout };
    const outcome = index === 0 ? standAt(at, standing, where) : reachCall(at, standing, where);
    faults.push(...outcome.faults);
    standing = outcome.standing;
  });
  return { faults, standing };
}

interface CallAt {
  readonly call: CallFile;
  readonly station: Station;
  readonly train: Train;
  readonly layout: Layout;
}

interface Outcome {
  readonly faults: readonly Fault[];
  /** Where the train may stand and set out from afterwards. */
  readonly standing: ReadonlySet<Heading>;
}

const stops = (call: CallFile): boolean => call.stop !== 'pass';

/** The headings a call's tracks offer; with `room`, only those in which the train stands clear. */
function headingsAt({ call, station, train, layout }: CallAt, room: boolean): Set<Heading> {
  const headings = tracksOf(call, station).flatMap(({ blocks }) =>
    headingsIn(blocks).filter(
      (heading) => !room || standingRoom(layout, blocks, heading) >= train.length,
    ),
  );
  return new Set(headings);
}

const headingsIn = (blocks: readonly ElementIndex[]): Heading[] =>
  blocks.flatMap((block) => [headingOf(block, 'b'), headingOf(block, 'a')]);

const setOut = (at: CallAt, reached: Iterable<Heading>): ReadonlySet<Heading> =>
  stops(at.call) && at.train.file.canReverse ? eitherWay(reached) : new Set(reached);

const common = (left: Iterable<Heading>, right: ReadonlySet<Heading>): Heading[] =>
  [...left].filter((heading) => right.has(heading));

/** The first call of a service: the train stands there already. */
function standAt(at: CallAt, standing: ReadonlySet<Heading>, where: string): Outcome {
  const here = common(standing, headingsAt(at, false));
  if (here.length > 0 || at.call.tracks === undefined) {
    return { faults: [], standing: setOut(at, here.length > 0 ? here : standing) };
  }
  const anywhere = new Set(at.station.tracks.flatMap(({ blocks }) => headingsIn(blocks)));
  return {
    // Standing at another station altogether is a fault of the working, named there.
    faults:
      common(standing, anywhere).length === 0
        ? []
        : [
            fault(
              where,
              `${at.train.file.id} stands in none of the tracks named here`,
              'name the track in which it ends the service before or is stored',
            ),
          ],
    standing: setOut(at, standing),
  };
}

function reachCall(at: CallAt, standing: ReadonlySet<Heading>, where: string): Outcome {
  const { train, layout, call, station } = at;
  const goals = headingsAt(at, stops(call));
  if (
    stops(call) &&
    !tracksOf(call, station).some((it) => fitsTrack(layout, it.blocks, train.length))
  ) {
    return {
      faults: [
        fault(
          where,
          `${train.file.id} is ${train.length} mm long and fits none of the tracks`,
          'name a longer track, or shorten the train',
        ),
      ],
      standing: setOut(at, headingsAt(at, false)),
    };
  }
  const reached = common(reachFrom(layout, standing, train.length).headings, goals);
  return reached.length > 0
    ? { faults: [], standing: setOut(at, reached) }
    : {
        faults: [unreachable(at, standing, goals, where)],
        // Go on as if it had arrived, so that one fault isn't named again at every later call.
        standing: setOut(at, goals),
      };
}

/** Finds out what stands in the way by leaving out one condition after the other. */
function unreachable(
  at: CallAt,
  standing: ReadonlySet<Heading>,
  goals: ReadonlySet<Heading>,
  where: string,
): Fault {
  const { train, layout, call } = at;
  const reached = reachFrom(layout, standing, train.length);
  if (common(reachFrom(layout, standing, 0).headings, goals).length > 0) {
    const sections = [...reached.tooShort]
      .map(([section, length]) => `${layout.elements[section]?.id} (${length} mm between its gaps)`)
      .join(', ');
    return fault(
      where,
      `${train.file.id} is ${train.length} mm long, too long for the reversing section on its only way: ${sections}`,
      'shorten the train, lengthen the reversing section, or let it run another way',
    );
  }
  if (common(reached.headings, headingsAt(at, false)).length > 0) {
    return fault(
      where,
      `${train.file.id} reaches ${call.station} only in tracks that don't hold its ${train.length} mm`,
      'let it use a longer track that it can reach, or shorten the train',
    );
  }
  if (common(reachFrom(layout, eitherWay(standing), train.length).headings, goals).length > 0) {
    return fault(
      where,
      `${train.file.id} reaches ${call.station} only with its rear leading, which it may not`,
      'turn its stored place round, send it round a loop first, or let it reverse; no engine runs round its train here',
    );
  }
  return fault(
    where,
    `no permitted way leads ${train.file.id} from where it stands to ${call.station}`,
    'correct the calls, the tracks named, or the permitted directions on the way',
  );
}
