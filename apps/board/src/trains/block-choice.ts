import type { Layout } from '@blockbell/railway';
import { elementName } from '../shared/track-words.js';

/**
 * Every block of a layout by what people call it: "Smallham 2" for a track of a station, else its name or id. Blocks
 * that would be called the same carry their id too.
 */
export function blockTitles(layout: Layout): ReadonlyMap<number, string> {
  const onTrack = new Map(
    layout.stations.flatMap(({ file, tracks }) =>
      tracks.flatMap(({ name, blocks }) =>
        blocks.map((block) => [block, `${file.name} ${name}`] as const),
      ),
    ),
  );
  const called = layout.elements
    .filter(({ kind }) => kind === 'block')
    .map(({ index, id }) => ({
      index,
      id,
      name: onTrack.get(index) ?? elementName(layout, index),
    }));
  const count = new Map<string, number>();
  for (const { name } of called) count.set(name, (count.get(name) ?? 0) + 1);
  return new Map(
    called.map(({ index, id, name }) => [index, count.get(name) === 1 ? name : `${name} (${id})`]),
  );
}

/** The block that a person means by a title, a name or an id, in small or capital letters; null for none or several. */
export function blockCalled(layout: Layout, text: string): number | null {
  const sought = text.trim().toLowerCase();
  const titles = [...blockTitles(layout)].map(([block, title]) => ({ block, title }));
  const ways: readonly ((block: number, title: string) => string | undefined)[] = [
    (_, title) => title,
    (block) => layout.elements[block]?.id,
    (block) => elementName(layout, block),
  ];
  for (const way of ways) {
    const found = titles.filter(({ block, title }) => way(block, title)?.toLowerCase() === sought);
    if (found.length === 1) return found[0]?.block ?? null;
  }
  return null;
}
