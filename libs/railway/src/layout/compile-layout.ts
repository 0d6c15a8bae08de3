import { findConflicts } from './conflicts.js';
import { compileElements } from './elements.js';
import { findFlank } from './flank.js';
import type { DetectorTypeFile, BusFile, LayoutFile, SectionFile } from './layout-file.js';
import type {
  Element,
  Layout,
  Route,
  RouteIndex,
  Section,
  SectionIndex,
  Station,
} from './layout.js';
import { findOverlaps } from './overlaps.js';
import { gapsByPort } from './reversing.js';
import { findWays } from './routes.js';
import { createStepMaker } from './steps.js';
import { buildTrackGraph } from './track-graph.js';
import type { TrackGraph } from './track-graph.js';

/** What of a layout follows from its elements one by one. */
type Track = Omit<Layout, keyof Ways>;
/** What it takes a search to find. */
type Ways = Pick<Layout, 'routes' | 'routesFrom' | 'routesInto' | 'blockSteps' | 'overlaps'>;

/**
 * Computes everything that follows from the builder's description: routes, their conflicts and flank, stop
 * marks, gaps to be matched. Pure: the same file gives the same layout. The file must be valid
 * (`validateLayout` finds no fault); a reference to something unknown is a bug here and throws.
 */
export function compileLayout(file: LayoutFile): Layout {
  const graph = buildTrackGraph(file);
  const track = compileTrack(file, graph);
  return { ...track, ...compileWays(track, graph) };
}

/**
 * The same, but its ways are looked for when they are first asked for: for those who draw a large layout, which needs none,
 * before anybody asks where trains may go.
 */
export function compileLayoutForDrawing(file: LayoutFile): Layout {
  const graph = buildTrackGraph(file);
  const track = compileTrack(file, graph);
  let found: Ways | null = null;
  const ways = (): Ways => (found ??= compileWays(track, graph));
  return {
    ...track,
    get routes() {
      return ways().routes;
    },
    get routesFrom() {
      return ways().routesFrom;
    },
    get routesInto() {
      return ways().routesInto;
    },
    get blockSteps() {
      return ways().blockSteps;
    },
    get overlaps() {
      return ways().overlaps;
    },
  };
}

function compileTrack(file: LayoutFile, graph: TrackGraph): Track {
  const sectionByName = new Map(file.sections.map(({ id }, index) => [id as string, index]));
  const elements = compileElements(file, graph, sectionByName);
  const elementByName = new Map(elements.map(({ id, index }) => [id as string, index]));
  return {
    file,
    elements,
    sections: compileSections(file, elements),
    stations: compileStations(file, elementByName),
    ...divideTracks(file, elementByName, elements.length),
    districts: file.districts.map(({ id }) => id),
    elementByName,
    sectionByName,
  };
}

function compileWays({ file, elements, sectionByName }: Track, graph: TrackGraph): Ways {
  const maker = createStepMaker(elements, sectionByName, gapsByPort(file, graph));
  const ways = findWays(elements, graph, maker);
  const conflicts = findConflicts(ways);
  const routes = ways.map((way, index): Route => ({
    ...way,
    index,
    flank: findFlank(way.steps, elements, graph),
    conflicts: conflicts[index] ?? [],
  }));
  const routesFrom: RouteIndex[][] = elements.flatMap(() => [[], []]);
  const routesInto: RouteIndex[][] = elements.flatMap(() => [[], []]);
  for (const route of routes) {
    routesFrom[route.from]?.push(route.index);
    routesInto[route.to]?.push(route.index);
  }
  return {
    routes,
    routesFrom,
    routesInto,
    blockSteps: maker.blockSteps,
    overlaps: findOverlaps(elements, graph, maker),
  };
}

function compileSections(file: LayoutFile, elements: readonly Element[]): readonly Section[] {
  const detectors = new Map<string, DetectorTypeFile>(file.detectorTypes.map((it) => [it.id, it]));
  const buses = new Map<string, BusFile>(file.buses.map((it) => [it.id, it]));
  const seenBy: number[][] = file.sections.map(() => []);
  for (const element of elements) {
    if (element.kind === 'polarity') continue;
    for (const section of element.sections) seenBy[section]?.push(element.index);
  }
  return file.sections.map((section: SectionFile, index: SectionIndex) => ({
    index,
    id: section.id,
    file: section,
    detector: known(detectors.get(section.detector), 'detector type', section.detector),
    bus: known(buses.get(section.bus), 'bus', section.bus),
    district: file.districts.findIndex(({ id }) => id === section.district),
    elements: seenBy[index] ?? [],
  }));
}

function compileStations(
  file: LayoutFile,
  elementByName: ReadonlyMap<string, number>,
): readonly Station[] {
  return file.stations.map((station, index) => ({
    index,
    file: station,
    tracks: station.tracks.map(({ name, platform, blocks }) => ({
      name,
      platform,
      blocks: blocks.map((id) => known(elementByName.get(id), 'block', id)),
    })),
  }));
}

function divideTracks(
  { stations }: LayoutFile,
  elementByName: ReadonlyMap<string, number>,
  elementCount: number,
): Pick<Layout, 'dividedTracks' | 'dividedTrackOf'> {
  const dividedTracks = stations
    .filter(({ kind }) => kind === 'station')
    .flatMap(({ id, tracks }) =>
      tracks
        .filter(({ blocks }) => blocks.length > 1)
        .map((track) => ({
          id: `${id} ${track.name}`,
          blocks: track.blocks.map((block) => known(elementByName.get(block), 'block', block)),
          callOn: track.callOn === true,
        })),
    );
  const dividedTrackOf = new Array<number>(elementCount).fill(-1);
  dividedTracks.forEach(({ blocks }, at) => {
    for (const block of blocks) dividedTrackOf[block] = at;
  });
  return { dividedTracks, dividedTrackOf };
}

function known<T>(found: T | undefined, what: string, id: string): T {
  if (found === undefined) throw new Error(`the layout was not validated: no ${what} ${id}`);
  return found;
}
