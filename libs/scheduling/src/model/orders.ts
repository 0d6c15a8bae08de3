import type { Problem, Train } from '../problem/problem.js';

/** Operations by which a train holds a resource in one go, whichever path it takes. */
export interface Holding {
  readonly train: number;
  /** Number of the set of operations, the same wherever the same train holds something by the same ones. */
  readonly set: number;
  readonly operations: readonly number[];
  /** Release time after each operation. */
  readonly releases: readonly number[];
}

/** Two trains want the same resources once each: one of them goes first. */
export type Encounter = readonly [Holding, Holding];

/**
 * Every question of order between two trains; the same two sets of operations meet in one encounter, and what another encounter of the
 * two settles is left out.
 */
export function encounters(problem: Problem): Encounter[] {
  const { holdings, sets } = holdingsByResource(problem);
  const found: Encounter[] = [];
  const placeOf = new Map<number, number>();
  for (const sharing of holdings) {
    for (let i = 0; i < sharing.length; i++) {
      const a = sharing[i]!;
      for (let j = i + 1; j < sharing.length; j++) {
        const b = sharing[j]!;
        if (a.train === b.train) continue;
        const key = a.set * sets + b.set;
        const place = placeOf.get(key);
        if (place === undefined) {
          placeOf.set(key, found.length);
          found.push([a, b]);
        } else {
          const [knownA, knownB] = found[place]!;
          found[place] = [withLongest(knownA, a), withLongest(knownB, b)];
        }
      }
    }
  }
  return withoutSettled(found, problem.trains.length);
}

/** Without encounters in which both trains use what they also use in another one, for which they keep at least as much time. */
function withoutSettled(all: readonly Encounter[], trains: number): Encounter[] {
  const byTrains = new Map<number, Encounter[]>();
  for (const encounter of all) {
    const [a, b] = encounter;
    const key = a.train * trains + b.train;
    const group = byTrains.get(key);
    if (group === undefined) byTrains.set(key, [encounter]);
    else group.push(encounter);
  }
  const settled = new Set<Encounter>();
  const size = ([a, b]: Encounter): number => a.operations.length + b.operations.length;
  for (const group of byTrains.values()) {
    const kept: Encounter[] = [];
    for (const encounter of group.toSorted((one, other) => size(other) - size(one))) {
      const [a, b] = encounter;
      if (kept.some((other) => covers(other[0], a) && covers(other[1], b))) settled.add(encounter);
      else kept.push(encounter);
    }
  }
  return all.filter((encounter) => !settled.has(encounter));
}

/** Whether a train holds one thing by all the operations by which it holds another, and as long after each. */
function covers(one: Holding, other: Holding): boolean {
  let at = 0;
  return other.operations.every((operation, i) => {
    while (at < one.operations.length && one.operations[at]! < operation) at++;
    return one.operations[at] === operation && one.releases[at]! >= other.releases[i]!;
  });
}

/** The longer of the release times of two holdings by the same operations. */
function withLongest(one: Holding, other: Holding): Holding {
  if (one.releases.every((release, i) => release >= other.releases[i]!)) return one;
  return {
    ...one,
    releases: one.releases.map((release, i) => Math.max(release, other.releases[i]!)),
  };
}

function holdingsByResource(problem: Problem): {
  readonly holdings: readonly (readonly Holding[])[];
  readonly sets: number;
} {
  const all = new Map<string, Holding[]>();
  let sets = 0;
  problem.trains.forEach((operations, train) => {
    const setOf = new Map<string, number>();
    for (const [resource, uses] of usesByResource(operations)) {
      let holdings = all.get(resource);
      if (holdings === undefined) all.set(resource, (holdings = []));
      for (const part of inOneGo(operations, uses.operations)) {
        const name = part.join(' ');
        let set = setOf.get(name);
        if (set === undefined) setOf.set(name, (set = sets++));
        holdings.push({ train, set, operations: part, releases: releasesOf(uses, part) });
      }
    }
  });
  return { holdings: [...all.values()], sets };
}

/** Operations that use a resource, ascending, and the release time after each. */
interface Uses {
  readonly operations: number[];
  readonly releases: number[];
}

/** By resource of a train. */
function usesByResource(train: Train): Map<string, Uses> {
  const found = new Map<string, Uses>();
  train.forEach(({ resources }, operation) => {
    for (const { resource, releaseTime } of resources) {
      const uses = found.get(resource);
      if (uses === undefined) {
        found.set(resource, { operations: [operation], releases: [releaseTime] });
      } else if (uses.operations.at(-1) === operation) {
        uses.releases.push(Math.max(releaseTime, uses.releases.pop()!));
      } else {
        uses.operations.push(operation);
        uses.releases.push(releaseTime);
      }
    }
  });
  return found;
}

const releasesOf = ({ operations, releases }: Uses, part: readonly number[]): readonly number[] =>
  part === operations
    ? releases
    : part.map((operation) => releases[operations.indexOf(operation)]!);

/** Splits uses of a resource so that no path lets go of it, and takes it again, within a part. */
function inOneGo(train: Train, operations: readonly number[]): readonly (readonly number[])[] {
  if (operations.length === 1 || !letsGoBetween(train, operations)) return [operations];
  return adjoining(train, operations).flatMap((part) =>
    letsGoBetween(train, part) ? part.map((operation) => [operation]) : [part],
  );
}

function letsGoBetween(train: Train, operations: readonly number[]): boolean {
  const members = new Set(operations);
  const last = Math.max(...operations);
  const leadsBack = new Uint8Array(train.length);
  for (let i = last; i >= 0; i--) {
    if (members.has(i) || train[i]!.successors.some((v) => leadsBack[v] === 1)) leadsBack[i] = 1;
  }
  return operations.some((i) =>
    train[i]!.successors.some((v) => !members.has(v) && leadsBack[v] === 1),
  );
}

/** Groups of operations that follow one another directly; given and returned in ascending order. */
function adjoining(train: Train, operations: readonly number[]): number[][] {
  const groupOf = new Map<number, number[]>(operations.map((i) => [i, [i]]));
  for (const i of operations) {
    for (const v of train[i]!.successors) {
      const group = groupOf.get(i)!;
      const other = groupOf.get(v);
      if (other === undefined || other === group) continue;
      for (const member of other) {
        group.push(member);
        groupOf.set(member, group);
      }
    }
  }
  return [...new Set(groupOf.values())].map((group) => group.sort((a, b) => a - b));
}
