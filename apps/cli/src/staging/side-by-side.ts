import type { World } from '@blockbell/railway';
import { compareTrials } from '@blockbell/staging';
import type { TriedYard } from './trial-text.js';

/** Both ways of every yard that both files have rules for, for other programs. */
export const sideBySide = (tried: readonly TriedYard[], against: readonly TriedYard[]) =>
  pairs(tried, against).map(([one, other]) => ({
    yard: one.rules.yard,
    figures: compareTrials(one.trial, other.trial),
  }));

/** The same as a table: a line for each figure, the first way and the second. */
export function sideText(
  world: World,
  tried: readonly TriedYard[],
  against: readonly TriedYard[],
): string {
  const both = pairs(tried, against);
  if (both.length === 0) return 'Side by side: no yard has rules in both files.';
  return both.map(([one, other]) => tableOf(world, one, other)).join('\n\n');
}

function tableOf(world: World, one: TriedYard, other: TriedYard): string {
  const { name } = world.layout.stations[one.yard.station]!.file;
  const lines = compareTrials(one.trial, other.trial);
  const wide = Math.max(...lines.map(({ what }) => what.length));
  return [
    `${name}, side by side: first “${one.name}”, second “${other.name}”`,
    `  ${''.padEnd(wide)}  first second`,
    ...lines.map(
      ({ what, first, second }) =>
        `  ${what.padEnd(wide)}  ${String(first).padStart(5)} ${String(second).padStart(6)}`,
    ),
  ].join('\n');
}

const pairs = (
  tried: readonly TriedYard[],
  against: readonly TriedYard[],
): (readonly [TriedYard, TriedYard])[] =>
  tried.flatMap((one) => {
    const other = against.find(({ rules }) => rules.yard === one.rules.yard);
    return other === undefined ? [] : [[one, other] as const];
  });
