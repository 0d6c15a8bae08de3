import { slotText, type World } from '@blockbell/railway';
import type { SessionResult } from '../session/session-result.js';
import type { WaitCause, WaitPlace } from './report.js';

const MINUTE = 60_000;

/** Where trains waited for others and for whom, the worst place first. */
export function waitsByPlace(world: World, results: readonly SessionResult[]): WaitPlace[] {
  const { layout } = world;
  return grouped(
    results,
    ({ place }) => place,
    ({ train }) => train,
  ).map(({ key, time, parts }) => ({
    element: key < 0 ? null : layout.elements[key]!.id,
    place: key < 0 ? 'elsewhere' : slotText(layout, key),
    perSession: time / MINUTE / results.length,
    for: parts.map((part) => lineOf(world, results, part)),
  }));
}

/** Who made others wait and whom, the worst first. */
export function waitsByTrain(world: World, results: readonly SessionResult[]): WaitCause[] {
  return grouped(
    results,
    ({ train }) => train,
    ({ waiter }) => waiter,
  ).map(({ key, time, parts }) => ({
    ...lineOf(world, results, { key, time }),
    whom: parts.map((part) => lineOf(world, results, part)),
  }));
}

const lineOf = (
  { stock }: World,
  results: readonly SessionResult[],
  { key, time }: Part,
): { train: string; perSession: number } => ({
  train: stock.trains[key]!.file.label,
  perSession: time / MINUTE / results.length,
});

type Wait = SessionResult['waits'][number];
type Part = { readonly key: number; readonly time: number };

/** Waits for other trains added up by one thing and within it by another, the longest first. */
function grouped(
  results: readonly SessionResult[],
  outer: (wait: Wait) => number,
  inner: (wait: Wait) => number,
): (Part & { readonly parts: readonly Part[] })[] {
  const groups = new Map<number, Map<number, number>>();
  for (const { waits } of results) {
    for (const wait of waits) {
      if (wait.train < 0) continue;
      const group = groups.get(outer(wait)) ?? new Map<number, number>();
      groups.set(outer(wait), group);
      group.set(inner(wait), (group.get(inner(wait)) ?? 0) + wait.time);
    }
  }
  const longestFirst = (a: Part, b: Part): number => b.time - a.time || a.key - b.key;
  return [...groups]
    .map(([key, group]) => {
      const parts = [...group].map(([part, time]) => ({ key: part, time })).sort(longestFirst);
      return { key, time: parts.reduce((total, { time }) => total + time, 0), parts };
    })
    .sort(longestFirst);
}
