import { blockOf, endAhead, type Layout, type Route } from '../layout/layout.js';
import { slotText } from './explain.js';

/** A route as people call it, from track to track: `Pennick 1 → block L3`; over which turnouts, where several ways lead there. */
export function routeText(layout: Layout, { id, from, to, steps }: Route): string {
  const [start, end] = [blockOf(from), blockOf(to)];
  const words = `${slotText(layout, start)} → ${slotText(layout, end)}`;
  const left = layout.elements[start]!.id;
  if (id === `${left}>${layout.elements[end]!.id}`) return words;
  const lie = steps.flatMap(({ element, leg }) =>
    leg.position === null ? [] : [`${layout.elements[element]!.id} ${leg.position}`],
  );
  return [
    words,
    // The id names the end that is left only where nothing else tells the ways apart.
    ...(id.startsWith(`${left}>`) ? [] : [`out of its end ${endAhead(from)}`]),
    ...(lie.length === 0 ? [] : [`over ${lie.join(', ')}`]),
  ].join(' ');
}
