import { blockOf, endAhead, opposite } from '@blockbell/railway';
import type { Element, Heading, Layout } from '@blockbell/railway';

const nameOf = ({ file, id }: Element): string => (file?.kind === 'block' ? (file.name ?? id) : id);

export function elementName(layout: Layout | undefined, element: number): string {
  const found = layout?.elements[element];
  return found ? nameOf(found) : `#${element}`;
}

/** Where a heading looks to, by the blocks that come next: "M12" or "M12 or M13"; "the end" where none does. */
export function aheadName(layout: Layout, heading: Heading): string {
  const next = (layout.routesFrom[heading] ?? []).flatMap((route) => {
    const to = layout.routes[route]?.to;
    return to === undefined ? [] : [elementName(layout, blockOf(to))];
  });
  const names = [...new Set(next)];
  if (names.length === 0) return `its end ${endAhead(heading)}`;
  return names.length <= 2 ? names.join(' or ') : `${names[0]} and ${names.length - 1} others`;
}

/** A place with the train's front: "Platform 2, front towards M12". */
export const headingName = (layout: Layout, heading: Heading): string =>
  `${elementName(layout, blockOf(heading))}, front towards ${aheadName(layout, heading)}`;

/** Both headings of every block, by its name; blocks of stations first, as people look for trains there. */
export function headingChoices(
  layout: Layout,
): readonly { readonly group: string; readonly headings: readonly Heading[] }[] {
  const grouped = new Set<number>();
  const stations = layout.stations.map(({ file, tracks }) => {
    const blocks = tracks.flatMap(({ blocks }) => blocks);
    for (const block of blocks) grouped.add(block);
    return { group: file.name, headings: bothWays(blocks) };
  });
  const others = layout.elements
    .filter(({ kind, index }) => kind === 'block' && !grouped.has(index))
    .map(({ index }) => index);
  return [...stations, { group: 'Other blocks', headings: bothWays(others) }];
}

const bothWays = (blocks: readonly number[]): readonly Heading[] =>
  blocks.flatMap((block) => [block * 2, opposite(block * 2)]);
