import type { Layout } from '@blockbell/railway';
import type { Operation, ResourceUse } from '@blockbell/scheduling';
import type { TrainPlan } from './train-plan.js';
import { ticks } from './units.js';

/** Resource number of a connection: held by who is waited for, needed by who waits. */
export const connectionResource = (connection: number): number => -1 - connection;

/**
 * The trains' operations with resources. Track that only one train uses asks no question and is left out; what all use in
 * the same operations is one resource.
 */
export function withResources(layout: Layout, plans: readonly TrainPlan[]): Operation[][] {
  const uses = new Map<number, number[]>();
  const firstOf: number[] = [];
  let operations = 0;
  const use = (resource: number, operation: number): void => {
    const known = uses.get(resource);
    if (known === undefined) uses.set(resource, [operation]);
    else if (known.at(-1) !== operation) known.push(operation);
  };
  for (const { drafts, awaited } of plans) {
    const first = operations;
    firstOf.push(first);
    drafts.forEach(({ holds }, at) => holds.forEach((resource) => use(resource, first + at)));
    for (const { connection, operations } of awaited)
      for (const at of operations) use(connectionResource(connection), first + at);
    operations += drafts.length;
  }
  const trainOf = plans.flatMap(({ drafts }, plan) => drafts.map(() => plan));
  const groups = new Map<string, { readonly operations: readonly number[]; releaseTime: number }>();
  const releases = releasesOf(layout, plans);
  for (const [resource, list] of uses) {
    if (list.every((operation) => trainOf[operation] === trainOf[list[0]!])) continue;
    const key = list.join();
    const releaseTime = releases(resource);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { operations: list, releaseTime });
    else group.releaseTime = Math.max(group.releaseTime, releaseTime);
  }
  const held: ResourceUse[][] = Array.from({ length: operations }, () => []);
  let number = 0;
  for (const { operations, releaseTime } of groups.values()) {
    const resource = `r${number++}`;
    for (const operation of operations) held[operation]!.push({ resource, releaseTime });
  }
  return plans.map(({ drafts }, plan) =>
    drafts.map(({ startLb, minDuration, successors }, at) => ({
      startLb,
      // It stands where it stands.
      startUb: at === 0 ? 0 : Infinity,
      minDuration,
      successors,
      resources: held[firstOf[plan]! + at]!,
    })),
  );
}

/** Ticks for which a resource stays taken after its last use: the change between connecting trains, or detection. */
function releasesOf(layout: Layout, plans: readonly TrainPlan[]): (resource: number) => number {
  const changes = new Map<number, number>();
  for (const { awaited } of plans)
    for (const { connection, release } of awaited)
      changes.set(connectionResource(connection), release);
  return (resource) => changes.get(resource) ?? ticks(releaseTime(layout, resource));
}

/** How long track stays taken after the tail has left it, physical ms: until detectors have said so for certain. */
export function releaseTime(layout: Layout, resource: number): number {
  const sections = sectionsOf(layout, resource);
  const delays = sections.flatMap((section) => {
    const detector = layout.sections[section]?.detector;
    return detector === undefined ? [] : [detector.holdOff + detector.worstDelay.free / 2];
  });
  return Math.max(0, ...delays);
}

/** The sections that see a resource: an element, a section that sees several, or a divided track. */
function sectionsOf(
  { elements, sections, dividedTracks }: Layout,
  resource: number,
): readonly number[] {
  const element = elements[resource];
  if (element !== undefined) return element.sections;
  const track = dividedTracks[resource - elements.length - sections.length];
  return track === undefined
    ? [resource - elements.length]
    : track.blocks.flatMap((block) => elements[block]!.sections);
}
