import { deadEnds, terminalPlatforms, throughTracks, type Place } from './runs.js';

/** How a train goes through the two stations of the main line. */
export interface Style {
  readonly brindlemere: Omit<Place, 'station' | 'tracks'> & { readonly loop?: boolean };
  readonly ostraven: Omit<Place, 'station' | 'tracks'> & { readonly loop?: boolean };
}

export const CALLS: Style = { brindlemere: {}, ostraven: {} };
export const PASSES: Style = { brindlemere: { pass: true }, ostraven: { pass: true } };
/** Stands in the loop at Brindlemere while something faster goes by. */
export const OVERTAKEN_AT_BRINDLEMERE: Style = {
  brindlemere: { loop: true, stay: 14 },
  ostraven: { pass: true },
};
export const OVERTAKEN_AT_OSTRAVEN: Style = {
  brindlemere: { pass: true },
  ostraven: { loop: true, stay: 8 },
};

const TRACKS = {
  down: { brindlemere: ['A3', 'A4'], ostraven: ['B3', 'B4'] },
  up: { brindlemere: ['A2', 'A1'], ostraven: ['B2', 'B1'] },
} as const;

function through(line: 'down' | 'up', station: keyof Style, style: Style): Place {
  const { loop, ...how } = style[station];
  const [main, side] = TRACKS[line][station];
  return { station, tracks: loop === true ? [side, main] : [main, side], ...how };
}

const down = (style: Style): readonly Place[] => [
  through('down', 'brindlemere', style),
  through('down', 'ostraven', style),
];
const up = (style: Style): readonly Place[] => [
  through('up', 'ostraven', style),
  through('up', 'brindlemere', style),
];
const yard = (tracks: readonly string[]): Place => ({ station: 'undercroft', tracks });
const selquay = (tracks: readonly string[]): Place => ({ station: 'selquay', tracks });

/** Out of the yard to the loop platform at Selquay, for trains that can't reverse. */
export const outward = (style: Style): readonly Place[] => [
  yard(throughTracks('Y1')),
  ...down(style),
  selquay(['C4']),
];

/** Round the balloon loop and home to the yard, to the track `into` if it is free. */
export const homeward = (into: string, style: Style): readonly Place[] => [
  selquay(['C4']),
  ...up(style),
  yard(throughTracks(into)),
];

/** Some go round the loop on arrival and wait in the departure platform, ready to leave. */
export const outwardAndRound = (style: Style): readonly Place[] => [
  yard(throughTracks('Y1')),
  ...down(style),
  { ...selquay(['C3']), detour: 5 },
];
export const homewardAtOnce = (into: string, style: Style): readonly Place[] => [
  selquay(['C3']),
  ...up(style),
  yard(throughTracks(into)),
];

/** The pick-up goods starts and ends in the loop at Brindlemere. */
export const goodsFromBrindlemere: readonly Place[] = [
  { station: 'brindlemere', tracks: ['A4'] },
  through('down', 'ostraven', PASSES),
  selquay(['C4']),
];
export const goodsToBrindlemere: readonly Place[] = [
  yard(throughTracks('Y8')),
  { station: 'brindlemere', tracks: ['A4'] },
];

/** Suburban trains run between the yard's dead ends and the terminal platforms. */
export const toSelquay = (platform: string): readonly Place[] => [
  yard(deadEnds('X1')),
  ...down(CALLS),
  selquay(terminalPlatforms(platform)),
];
export const fromSelquay = (into: string): readonly Place[] => [
  selquay(terminalPlatforms('C1')),
  ...up(CALLS),
  yard(deadEnds(into)),
];

/** Some turn back at Ostraven, from the loop platform over the crossover to the up line. */
export const toOstraven: readonly Place[] = [
  yard(deadEnds('X1')),
  through('down', 'brindlemere', CALLS),
  { station: 'ostraven', tracks: ['B4'] },
];
export const fromOstraven = (into: string): readonly Place[] => [
  { station: 'ostraven', tracks: ['B4'] },
  through('up', 'brindlemere', CALLS),
  yard(deadEnds(into)),
];

const haltEastbound: Place = { station: 'pellow', tracks: ['H1', 'H2'] };
const haltWestbound: Place = { station: 'pellow', tracks: ['H2', 'H1'] };
const dunmarrow: Place = { station: 'dunmarrow', tracks: ['E1', 'E2'] };
const bay: Place = { station: 'ostraven', tracks: ['B5'] };

/** Through trains between the yard and the branch; upwards they cross the down line on the level. */
export const toDunmarrow: readonly Place[] = [
  yard(deadEnds('X3')),
  ...down(CALLS),
  haltEastbound,
  dunmarrow,
];
export const fromDunmarrow = (into: string): readonly Place[] => [
  dunmarrow,
  haltWestbound,
  ...up({ brindlemere: {}, ostraven: { loop: true } }),
  yard(deadEnds(into)),
];

/** The branch railcars. */
export const bayToDunmarrow: readonly Place[] = [bay, haltEastbound, dunmarrow];
export const dunmarrowToBay: readonly Place[] = [dunmarrow, haltWestbound, bay];

/** The stone train, between the spur at Brindlemere and the goods track at Dunmarrow. */
const spur: Place = { station: 'brindlemere', tracks: ['A5'] };
const goodsTrack: Place = { station: 'dunmarrow', tracks: ['E3'] };
export const stoneEmpties: readonly Place[] = [
  spur,
  { station: 'ostraven', tracks: ['B3', 'B4'], pass: true },
  { ...haltEastbound, pass: true },
  goodsTrack,
];
export const stoneLoaded: readonly Place[] = [
  goodsTrack,
  { ...haltWestbound, pass: true },
  { station: 'ostraven', tracks: ['B1', 'B2'], pass: true },
  spur,
];
