import type { Mover, Reach } from '../mover.js';

/** A small yard of places joined by ways: each place holds one train, a way is free while nobody holds a place on it. */
export interface SmallYard {
  /** By place: the places joined to it. */
  readonly joined: readonly (readonly number[])[];
  /** By train: where it stands, where it is to stand, and whether it may run at all. */
  readonly trains: readonly { readonly from: number; readonly home: number }[];
}

/** A train of the small yard. */
export function yardMover({ joined }: SmallYard, from: number, home: number): Mover<number[]> {
  const reachOver = (node: number, isFree: (place: number) => boolean): Reach<number[]>[] => {
    const found: Reach<number[]>[] = [{ to: node, needs: [], way: [] }];
    for (const { to, way } of found) {
      for (const next of joined[to]!) {
        if (isFree(next) && found.every((it) => it.to !== next))
          found.push({ to: next, needs: [...way, next], way: [...way, next] });
      }
    }
    return found.slice(1);
  };
  const all = new Set(reachOver(home, () => true).map(({ to }) => to));
  return {
    start: from,
    holds: (node) => [node],
    isHome: (node) => node === home,
    least: (node) => (node === home ? 0 : all.has(node) ? 1 : Infinity),
    reach: reachOver,
  };
}

/** Most trains that any order brings home, and the fewest moves that do, of all orders there are. */
export function bruteForce({ joined, trains }: SmallYard): { home: number; moves: number } {
  const homeAt = (places: readonly number[]): number =>
    places.filter((place, train) => place === trains[train]!.home).length;
  let layer = [trains.map(({ from }) => from)];
  const seen = new Set(layer.map((places) => places.join()));
  let best = { home: homeAt(layer[0]!), moves: 0 };
  for (let moves = 1; layer.length > 0; moves++) {
    const next: number[][] = [];
    for (const places of layer) {
      for (const [train, from] of places.entries()) {
        const spread = [from];
        for (const at of spread) {
          for (const to of joined[at]!)
            if (!places.includes(to) && !spread.includes(to)) spread.push(to);
        }
        for (const to of spread.slice(1)) {
          const after = places.map((place, index) => (index === train ? to : place));
          if (seen.has(after.join())) continue;
          seen.add(after.join());
          next.push(after);
          if (homeAt(after) > best.home) best = { home: homeAt(after), moves };
        }
      }
    }
    layer = next;
  }
  return best;
}
