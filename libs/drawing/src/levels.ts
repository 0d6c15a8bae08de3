import type { TrackNet } from './track-net.js';
import { beyond } from './track-net.js';

/**
 * The level of every element, by its number among the file's levels. Where the file doesn't say: that of the nearest
 * element whose level is known; in a file without any, staging yards with their ladders and loops lie on the first
 * hidden level and all else on the first open one.
 */
export function levelsOf(net: TrackNet): readonly number[] {
  const { file } = net;
  const byName = new Map(file.levels.map(({ id }, level) => [id, level]));
  const level = file.elements.map(({ draw }) => byName.get(draw?.level ?? '') ?? -1);
  if (level.some((known) => known >= 0)) {
    spread(net, level);
  } else {
    const hidden = file.levels.findIndex((it) => it.hidden);
    if (hidden >= 0) for (const element of yardElements(net)) level[element] = hidden;
  }
  const open = Math.max(
    0,
    file.levels.findIndex((it) => !it.hidden),
  );
  return level.map((known) => (known >= 0 ? known : open));
}

/** Gives neighbours of known elements their level, one join after the other. */
function spread(net: TrackNet, level: number[]): void {
  const front = level.flatMap((known, element) => (known >= 0 ? [element] : []));
  for (let at = 0; at < front.length; at += 1) {
    const element = front[at] ?? -1;
    for (const port of net.portsOf[element]?.values() ?? []) {
      const other = beyond(net, port);
      if (other === null || (level[other] ?? 0) >= 0) continue;
      level[other] = level[element] ?? 0;
      front.push(other);
    }
  }
}

/** Tracks of staging yards, the turnouts between them, and track without stations that leads nowhere else. */
function yardElements(net: TrackNet): ReadonlySet<number> {
  const { file, portsOf } = net;
  const tracks = new Set<string>(
    file.stations
      .filter(({ kind }) => kind === 'staging-yard')
      .flatMap((it) => it.tracks.flatMap(({ blocks }) => blocks)),
  );
  const named = new Set<string>(
    file.stations.flatMap((it) => it.tracks.flatMap(({ blocks }) => blocks)),
  );
  const yard = new Set(
    file.elements.flatMap(({ id }, element) => (tracks.has(id) ? [element] : [])),
  );
  // A set that grows is gone through to its new end.
  for (const element of yard) {
    for (const port of portsOf[element]?.values() ?? []) {
      const other = beyond(net, port);
      if (other !== null && file.elements[other]?.kind !== 'block') yard.add(other);
    }
  }
  for (const group of groupsWithout(net, yard))
    if (group.every((element) => !named.has(file.elements[element]?.id ?? '')))
      for (const element of group) yard.add(element);
  return yard;
}

/** The connected parts that are left without some elements. */
function groupsWithout(net: TrackNet, gone: ReadonlySet<number>): readonly (readonly number[])[] {
  const seen = new Set(gone);
  return net.file.elements.flatMap((_, first) => {
    if (seen.has(first)) return [];
    seen.add(first);
    const group = [first];
    for (const element of group) {
      for (const port of net.portsOf[element]?.values() ?? []) {
        const other = beyond(net, port);
        if (other === null || seen.has(other)) continue;
        seen.add(other);
        group.push(other);
      }
    }
    return [group];
  });
}
