import { berthsOf, WorkingGraph, yardTracks, type World } from '@blockbell/railway';
import { arrivals } from './arrivals.js';
import type { BookedYard } from './booked-yard.js';

/** Tracks of its calls that a train can't use, for it could leave them only with its rear leading: an engine would have to run round. */
export interface KeptOut {
  readonly train: number;
  /** Names. */
  readonly tracks: readonly string[];
}

/**
 * Trains that would have to run round, swap ends or reverse in a yard and may not, with the tracks that are closed to them for that;
 * each train once.
 */
export function keptOut(world: World, { station, stays }: BookedYard): KeptOut[] {
  const { layout, stock, timetable, graphs, book } = world;
  const tracks = yardTracks(layout, station);
  return stock.trains.flatMap((train, index): KeptOut[] => {
    const own = stays.filter((stay) => stay.train === index);
    const missing = own.filter(({ stop, berths }) => {
      const wanted = graphs[index]!.stops[stop]!.tracks;
      return wanted.some(({ name }) => berths.every((it) => tracks[it.track]!.name !== name));
    });
    if (train.file.canReverse || missing.length === 0) return [];
    const graph = new WorkingGraph({
      layout,
      train: { ...train, file: { ...train.file, canReverse: true } },
      timetable,
      working: timetable.workings[index] ?? null,
      start: timetable.storedPlaces[index] ?? null,
      tables: book.tables,
    });
    const places = arrivals(graph);
    const closed = missing.flatMap(({ stop, berths }) => {
      const wanted = new Set(graph.stops[stop]!.tracks.map(({ name }) => name));
      return berthsOf(layout, train, graph, stop, tracks, places[stop]!).flatMap(({ track }) => {
        const { name } = tracks[track]!;
        return wanted.has(name) && berths.every((it) => it.track !== track) ? [name] : [];
      });
    });
    const named = tracks.map(({ name }) => name).filter((name) => closed.includes(name));
    return named.length === 0 ? [] : [{ train: index, tracks: named }];
  });
}

/** What is not done there, and what would mend it: a sentence. */
export function keptOutText(world: World, { train, tracks }: KeptOut): string {
  const { label } = world.stock.trains[train]!.file;
  const [of, them] = tracks.length === 1 ? ['track', 'it'] : ['tracks', 'them'];
  return (
    `${label} is not put into ${of} ${tracks.join(', ')}: it could leave ${them} only with its rear leading, and no engine runs round its train here. ` +
    'Name other tracks in its calls, let it reverse if it can be driven from both ends, or bring it there and out by hand.'
  );
}
