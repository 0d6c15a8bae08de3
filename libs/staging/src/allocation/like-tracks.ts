import type { Yard } from './yard.js';

/** By track: a name that two tracks share when every stay may stand in both, alike, so that empty ones are as good as one. */
export function kindsOfTracks({ tracks, stays }: Yard): string[] {
  return tracks.map(({ room }, track) => {
    const uses = stays.map(({ berths }) =>
      berths
        .filter((berth) => berth.track === track)
        .map((berth) => `${berth.in}${berth.out}${berth.needs},${berth.cost}`)
        .join('/'),
    );
    return `${room}|${uses.join('|')}`;
  });
}
