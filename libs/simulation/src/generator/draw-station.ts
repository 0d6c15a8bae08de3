import type { LinePlan, StationPlan } from './railway-plan.js';
import { LANE, type RowPen } from './row-pen.js';
import type { TrackArea } from './track-area.js';
import type { TrackBuilder } from './track-builder.js';

/** How long a track is drawn between the ladders, and a balloon loop with its turnout. */
const TRACK_WIDTH = 140;
const BALLOON_WIDTH = 4 * LANE;
const END_PIECE = 250;
/** Long enough to hold any generated train between the rail gaps. */
export const BALLOON_LENGTH = 2600;

/** Where a station is drawn and what lies beside it; null beyond the end of the railway. */
export interface StationSite {
  readonly name: string;
  readonly station: StationPlan;
  readonly west: LinePlan | null;
  readonly east: LinePlan | null;
}

/** How much of the row the station takes. */
export function stationWidth({ station, west, east }: StationSite): number {
  if (station.kind === 'wayside') return TRACK_WIDTH + 2 * LANE;
  const side = (line: LinePlan | null): number => {
    if (line === null && !station.balloon) return 0;
    const head = line === null ? BALLOON_WIDTH : line.double ? LANE : 0;
    return head + LANE * (station.tracks - 1);
  };
  return TRACK_WIDTH + side(west) + side(east);
}

/** The names of a station's tracks, which are one block each. */
export const trackNames = ({ name, station }: StationSite): readonly string[] =>
  Array.from({ length: station.tracks }, (_, track) => `${name}t${track + 1}`);

/** The ports of the throat towards a line, by lane. */
export const throatPorts = (
  { name, station }: StationSite,
  side: 'w' | 'e',
  line: LinePlan,
): readonly string[] => {
  if (line.double) return [`${name}${side}n.straight`, `${name}${side}n.diverging`];
  return [station.tracks > 1 ? `${name}${side}1.stem` : `${name}t1.${side === 'w' ? 'a' : 'b'}`];
};

/** Draws a station from west to east; `throat` wires its turnouts, `platforms` its tracks. */
export function drawStation(
  track: TrackBuilder,
  throat: TrackArea,
  platforms: TrackArea,
  pen: RowPen,
  site: StationSite,
): void {
  const start = pen.along;
  const end = start + stationWidth(site);
  if (site.station.kind === 'wayside') drawWayside(throat, platforms, pen, site, start, end);
  else {
    const west = drawSide({ track, throat, pen, site, side: 'w', edge: start, inward: 1 });
    const east = drawSide({ track, throat, pen, site, side: 'e', edge: end, inward: -1 });
    trackNames(site).forEach((name, lane) => {
      const from = pen.point(west[lane] ?? start, lane);
      const to = pen.point(east[lane] ?? end, lane);
      platforms.block(name, { from, to, pieces: trackPieces(site.station) });
      if (site.west === null && !site.station.balloon) platforms.bufferStop(`${name}z`, from);
      if (site.east === null && !site.station.balloon) platforms.bufferStop(`${name}z`, to);
    });
  }
  pen.advance(end - start);
}

function trackPieces({ trackLength, pieces }: StationPlan): number[] {
  return pieces === 2
    ? [trackLength - END_PIECE, END_PIECE]
    : [END_PIECE, trackLength - 2 * END_PIECE, END_PIECE];
}

/** Each line of a double track passes a loop on its outer side. */
function drawWayside(
  throat: TrackArea,
  platforms: TrackArea,
  pen: RowPen,
  site: StationSite,
  start: number,
  end: number,
): void {
  for (const [side, edge, inside] of [
    ['w', start, start + LANE],
    ['e', end, end - LANE],
  ] as const) {
    for (const [number, lane, loop] of [
      [1, 0, -1],
      [2, 1, 2],
    ] as const) {
      throat.turnout(`${site.name}${side}${number}`, {
        stem: pen.point(edge, lane),
        straight: pen.point(inside, lane),
        diverging: pen.point(inside, loop),
      });
    }
  }
  trackNames(site).forEach((name, index) => {
    const lane = index - 1;
    platforms.block(name, {
      from: pen.point(start + LANE, lane),
      to: pen.point(end - LANE, lane),
      pieces: trackPieces(site.station),
      directions: lane > 0 ? 'a-to-b' : 'b-to-a',
    });
  });
}

interface Side {
  readonly track: TrackBuilder;
  readonly throat: TrackArea;
  readonly pen: RowPen;
  readonly site: StationSite;
  readonly side: 'w' | 'e';
  /** Where the station ends on this side, and which way along the row its inside lies. */
  readonly edge: number;
  readonly inward: 1 | -1;
}

/** What lies between the line, the loop or the buffers and the tracks. Gives where each track begins. */
function drawSide(at: Side): readonly number[] {
  const { throat, pen, site, side, edge, inward } = at;
  const { station, name } = site;
  const line = side === 'w' ? site.west : site.east;
  if (line === null && !station.balloon) return trackNames(site).map(() => edge);

  let head = edge;
  if (line === null) {
    head = edge + inward * BALLOON_WIDTH;
    drawBalloon(at, head);
  } else if (line.double) {
    head = edge + inward * LANE;
    throat.turnout(`${name}${side}n`, {
      stem: pen.point(head, 0),
      straight: pen.point(edge, 0),
      diverging: pen.point(edge, 1),
    });
  }
  const last = station.tracks - 1;
  for (let rung = 0; rung < last; rung += 1) {
    const next = head + inward * LANE * (rung + 1);
    throat.turnout(`${name}${side}${rung + 1}`, {
      stem: pen.point(next - inward * LANE, rung),
      straight: pen.point(next, rung),
      diverging: pen.point(next, rung + 1),
    });
  }
  return trackNames(site).map((_, lane) => head + inward * LANE * Math.min(lane + 1, last));
}

/** A loop beyond the tracks in which trains turn, entered and left by one turnout. */
function drawBalloon({ track, throat, pen, site, side, inward }: Side, head: number): void {
  const out = (units: number): number => head - inward * units;
  const loop = `${site.name}${side}l`;
  throat
    .turnout(`${site.name}${side}q`, {
      stem: pen.point(head, 0),
      straight: pen.point(out(LANE), 0),
      diverging: pen.point(out(LANE), 1),
    })
    .block(loop, {
      from: pen.point(out(LANE), 0),
      to: pen.point(out(LANE), 1),
      via: [
        pen.point(out(BALLOON_WIDTH - LANE / 2), 0),
        pen.point(out(BALLOON_WIDTH), 0.5),
        pen.point(out(BALLOON_WIDTH - LANE / 2), 1),
      ],
      pieces: [END_PIECE, BALLOON_LENGTH - 2 * END_PIECE, END_PIECE],
      directions: 'a-to-b',
    });
  track.reversingSection(`${loop}p`, `Loop of ${site.name}`, [loop], {
    normal: `${loop}.a`,
    reversed: `${loop}.b`,
  });
}
