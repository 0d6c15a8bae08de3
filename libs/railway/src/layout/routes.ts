import { mm } from '../units.js';
import type { Millimetres, MillimetresPerSecond } from '../units.js';
import { legsFrom } from './element-legs.js';
import { blockOf, endAhead, headingOf } from './layout.js';
import type { Element, Heading, Step } from './layout.js';
import type { StepMaker } from './steps.js';
import type { Port, TrackGraph } from './track-graph.js';

/** A route before its conflicts and flank are known. */
export interface Way {
  readonly id: string;
  readonly from: Heading;
  readonly to: Heading;
  readonly steps: readonly Step[];
  readonly length: Millimetres;
  readonly speedLimit: MillimetresPerSecond | null;
}

/** Whether trains may run along a block in this direction. */
export const isPermitted = (elements: readonly Element[], heading: Heading): boolean =>
  elements[blockOf(heading)]?.permitted[heading & 1 ? 1 : 0] ?? false;

/**
 * Every way from the end of a block over turnouts and crossings through the whole next block, in permitted
 * directions. No element is passed twice (it could only be set once), and no way leads into the block it starts
 * from (the train itself stands there).
 */
export function findWays(
  elements: readonly Element[],
  graph: TrackGraph,
  maker: StepMaker,
): readonly Way[] {
  const found: Omit<Way, 'id'>[] = [];

  const walk = (from: Heading, entry: Port | null, passed: readonly Step[]): void => {
    const element = entry === null ? undefined : elements[entry.element];
    if (entry === null || element === undefined) return;
    if (element.kind === 'block') {
      const to = headingOf(element.index, entry.port === 'a' ? 'b' : 'a');
      const last = maker.blockSteps[to];
      if (last && element.index !== blockOf(from) && isPermitted(elements, to)) {
        found.push(describe(from, to, passed, last));
      }
      return;
    }
    if (passed.some((step) => step.element === element.index)) return;
    for (const leg of legsFrom(element.legs, entry.port)) {
      walk(from, graph.mate(element.index, leg.to), [...passed, maker.step(element, leg)]);
    }
  };

  maker.blockSteps.forEach((step, heading) => {
    if (step === null || !isPermitted(elements, heading)) return;
    walk(heading, graph.mate(blockOf(heading), endAhead(heading)), []);
  });
  return nameWays(found, elements);
}

function describe(
  from: Heading,
  to: Heading,
  passed: readonly Step[],
  last: Step,
): Omit<Way, 'id'> {
  let length = last.leg.length as number;
  let limit: MillimetresPerSecond | null = null;
  for (const { leg } of passed) {
    length += leg.length;
    if (leg.speedLimit !== null && (limit === null || leg.speedLimit < limit)) {
      limit = leg.speedLimit;
    }
  }
  return { from, to, steps: [...passed, last], length: mm(length), speedLimit: limit };
}

/**
 * Names each way as briefly as tells it apart: `A>B`; with the turnouts, `A>B/T1.diverging`, where two ways lead
 * from A to B; with the ends left and entered too, `A.b>B.a/T1.diverging`, where the turnouts don't tell.
 */
function nameWays(ways: readonly Omit<Way, 'id'>[], elements: readonly Element[]): Way[] {
  const name = (index: number): string => elements[index]?.id ?? '';
  const turnouts = (way: Omit<Way, 'id'>): string =>
    way.steps
      .filter((step) => step.leg.position !== null)
      .map((step) => `/${name(step.element)}.${step.leg.position}`)
      .join('');
  const end = (heading: Heading): string => endAhead(heading);
  const start = (heading: Heading): string => (endAhead(heading) === 'a' ? 'b' : 'a');

  const forms: readonly ((way: Omit<Way, 'id'>) => string)[] = [
    (way) => `${name(blockOf(way.from))}>${name(blockOf(way.to))}`,
    (way) => `${name(blockOf(way.from))}>${name(blockOf(way.to))}${turnouts(way)}`,
    (way) =>
      `${name(blockOf(way.from))}.${end(way.from)}>${name(blockOf(way.to))}.${start(way.to)}${turnouts(way)}`,
  ];
  const names = ways.map((way) => forms.map((form) => form(way)));
  const counts = forms.map((_, place) => {
    const count = new Map<string, number>();
    for (const { [place]: id = '' } of names) count.set(id, (count.get(id) ?? 0) + 1);
    return count;
  });
  return ways.map((way, index) => {
    const candidates = names[index] ?? [];
    const unique = candidates.find((id, place) => counts[place]?.get(id) === 1);
    return { id: unique ?? candidates.at(-1) ?? '', ...way };
  });
}
