import type { TrainView } from '@blockbell/contract';
import { blockOf, compileLayout, type Layout, type LayoutFile } from '@blockbell/railway';

/** Layout and trains' labels of the session that runs on a server. */
export async function filesOf(
  address: string,
): Promise<{ readonly layout: Layout; readonly labels: readonly string[] }> {
  const answer = await fetch(new URL('api/session/files', address));
  const { layout, stock } = (await answer.json()) as {
    layout: LayoutFile;
    stock: { trains: { label: string }[] };
  };
  return { layout: compileLayout(layout), labels: stock.trains.map(({ label }) => label) };
}

export const elementsOf = ({ path }: TrainView): number[] => path.map(({ element }) => element);

interface FreeWay {
  readonly train: number;
  readonly block: number;
}

/** Trains, each with the next block of one of its ways and nothing in between that anybody holds. */
export function freeWays(layout: Layout, rows: readonly TrainView[]): FreeWay[] {
  const held = new Set(rows.flatMap(elementsOf));
  return rows.flatMap(({ train, path }) => {
    const last = path.at(-1);
    if (last === undefined) return [];
    const heading = last.element * 2 + (last.to === 'b' ? 0 : 1);
    return (layout.routesFrom[heading] ?? []).flatMap((route) => {
      const { steps, to } = layout.routes[route]!;
      return steps.some(({ element }) => held.has(element)) ? [] : [{ train, block: blockOf(to) }];
    });
  });
}
