import { fastTime, formatClockText, type Layout, type World } from '@blockbell/railway';

/** Fast-clock time of day. */
export const clock = (time: number): string => formatClockText(fastTime(Math.round(time)));

/** A length of time on the fast clock, ms: `2 min 10 s`. Rounded up to a second. */
export function span(time: number): string {
  const seconds = Math.ceil(time / 1000);
  const minutes = Math.floor(seconds / 60);
  const rest = seconds % 60;
  if (minutes === 0) return `${rest} s`;
  return rest === 0 ? `${minutes} min` : `${minutes} min ${rest} s`;
}

export const stationName = ({ stations }: Layout, station: number): string =>
  stations[station]!.file.name;

/** A resource as people name it: the track of a station, a block, a turnout. */
export function trackName(layout: Layout, resource: number): string {
  const { elements, sections, stations, dividedTracks } = layout;
  const element = elements[resource];
  if (element === undefined) {
    const section = sections[resource - elements.length];
    if (section !== undefined) return `section ${section.id}`;
    return `track ${dividedTracks[resource - elements.length - sections.length]!.id}`;
  }
  for (const { file, tracks } of stations) {
    const track = tracks.find(({ blocks }) => blocks.includes(resource));
    if (track !== undefined) return `${file.name} track ${track.name}`;
  }
  const { file, id, kind } = element;
  if (file?.kind === 'block') return file.name ?? `block ${id}`;
  if (kind === 'polarity') return `reversing section ${id}`;
  return `${kind.replace('-', ' ')} ${id}`;
}

export const label = (world: World, train: number): string => world.stock.trains[train]!.file.label;
