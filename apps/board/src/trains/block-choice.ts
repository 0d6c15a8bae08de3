import type { Layout } from '@blockbell/railway';
import { elementName } from '../shared/track-words.js';

/** Every block of a layout by what it is called; blocks that share a name carry their id too. */
export function blockTitles(layout: Layout): ReadonlyMap<number, string> {
  const blocks = layout.elements.filter(({ kind }) => kind === 'block');
  const count = new Map<string, number>();
  for (const { index } of blocks) {
    const name = elementName(layout, index);
    count.set(name, (count.get(name) ?? 0) + 1);
  }
  return new Map(
    blocks.map(({ index, id }) => {
      const name = elementName(layout, index);
      return [index, count.get(name) === 1 ? name : `${name} (${id})`];
    }),
  );
}

/** The block that a person means by a title or an id, in small or capital letters; null for none. */
export function blockCalled(layout: Layout, text: string): number | null {
  const sought = text.trim().toLowerCase();
  for (const [block, title] of blockTitles(layout))
    if (title.toLowerCase() === sought) return block;
  const byId = layout.elements.find(
    ({ kind, id }) => kind === 'block' && id.toLowerCase() === sought,
  );
  return byId?.index ?? null;
}
