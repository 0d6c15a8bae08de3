import type { LayoutFile } from '@blockbell/railway/track';
import { nextChance, type RandomStream } from '../random.js';
import { CURRENT_SENSOR, READER, SINGLE_READER } from './detector-types.js';
import { drawLine, lineBlockLength, linePorts } from './draw-line.js';
import {
  drawStation,
  stationWidth,
  throatPorts,
  trackNames,
  type StationSite,
} from './draw-station.js';
import type { RailwayPlan } from './railway-plan.js';
import { ROW_HEIGHT, RowPen } from './row-pen.js';
import type { TrackArea } from './track-area.js';
import { TrackBuilder } from './track-builder.js';

/** Stations to a power district, and to a feedback bus. */
const STATIONS_PER_DISTRICT = 6;
const HIDDEN_HEIGHT = 280;
const SMALLEST_WIDTH = 900;
/** Drawn length of an average station with its line; rows are about twice as long as all are high. */
const PART_WIDTH = 330;
const MILLIMETRES_PER_METRE = 1000;

/** The stations of a plan with their names and the lines beside them. */
export const sitesOf = ({ stations, lines }: RailwayPlan): readonly StationSite[] =>
  stations.map((station, index) => ({
    name: `S${index + 1}`,
    station,
    west: lines[index - 1] ?? null,
    east: lines[index] ?? null,
  }));

/** The layout file of a plan: the line in rows from west to east, hidden yards above them. */
export function generateLayout(
  id: string,
  plan: RailwayPlan,
  scaleRatio: number,
  random: RandomStream,
): LayoutFile {
  const sites = sitesOf(plan);
  const track = new TrackBuilder({ id, name: `Generated railway ${id}`, scaleRatio });
  track.level('open', 'Open level', false);
  const hidden = plan.stations.some((station) => station.hidden);
  if (hidden) track.level('hidden', 'Hidden yards', true);
  track.detectorType(READER).detectorType(SINGLE_READER).detectorType(CURRENT_SENSOR);
  const areaOf = createAreas(track, sites.length);

  const width = Math.max(
    SMALLEST_WIDTH,
    Math.ceil(Math.sqrt(sites.length * PART_WIDTH * 2 * ROW_HEIGHT)),
  );
  const open = new RowPen(width, hidden ? HIDDEN_HEIGHT : 0);
  const below = new RowPen(width, 0);
  sites.forEach((site, index) => {
    const { station, east } = site;
    const area = areaOf(index, station.hidden ? 'hidden' : 'open');
    const pen = station.hidden ? below : open;
    const platforms = area.with({ detector: detectorOfStation(random) });
    drawStation(track, area, platforms, pen, site);
    if (station.hidden) below.advance((2 * PART_WIDTH) / 3);
    const next = sites[index + 1];
    if (east === null || next === undefined) return;
    const name = `L${index + 1}`;
    drawLine(areaOf(index, 'open'), open, name, east, next.station.hidden ? 0 : stationWidth(next));
    if (station.hidden) joinAll(track, throatPorts(site, 'e', east), linePorts(name, east, 'west'));
    if (next.station.hidden) {
      joinAll(track, throatPorts(next, 'w', east), linePorts(name, east, 'east'));
    }
  });
  addStations(track, sites, scaleRatio);
  return track.build();
}

function createAreas(
  track: TrackBuilder,
  stations: number,
): (station: number, level: string) => TrackArea {
  const count = Math.ceil(stations / STATIONS_PER_DISTRICT);
  for (let number = 1; number <= count; number += 1) {
    track
      .district(`d${number}`, `District ${number}`)
      .bus(`b${number}`, `Bus ${number}`, number % 2 === 0 ? 'heartbeat' : 'poll', 1000);
  }
  return (station, level) => {
    const number = Math.floor(station / STATIONS_PER_DISTRICT) + 1;
    return track.area({
      level,
      district: `d${number}`,
      bus: `b${number}`,
      detector: CURRENT_SENSOR.id,
      divergingLimit: 45,
      speedLimit: 80,
    });
  };
}

/** Most stations hear decoders, some one at a time, some not at all. */
function detectorOfStation(random: RandomStream): string {
  if (nextChance(random, 700)) return READER.id;
  return nextChance(random, 500) ? SINGLE_READER.id : CURRENT_SENSOR.id;
}

function joinAll(track: TrackBuilder, some: readonly string[], others: readonly string[]): void {
  some.forEach((port, lane) => {
    const other = others[lane];
    if (other !== undefined) track.join(port, other);
  });
}

function addStations(track: TrackBuilder, sites: readonly StationSite[], scaleRatio: number): void {
  let metres = 0;
  for (const site of sites) {
    const { name, station, west, east } = site;
    const kind = station.hidden ? 'staging-yard' : 'station';
    const title = station.hidden
      ? west === null
        ? 'West Yard'
        : 'East Yard'
      : `Station ${name.slice(1)}`;
    const chainage = Math.round(metres / 10) / 100;
    const tracks = trackNames(site).map((block, index) => ({
      block,
      name: `${index + 1}`,
      platform: !station.hidden,
    }));
    track.station(name, title, kind, chainage, tracks);
    const onwards = east === null ? 0 : east.blocks * lineBlockLength(east);
    metres += ((station.trackLength + onwards) * scaleRatio) / MILLIMETRES_PER_METRE;
  }
}
