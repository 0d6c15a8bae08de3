import { isEqual } from 'es-toolkit';
import type { LiveRows } from './live-rows.js';

/** What rows are kept in, by their numbers. */
interface Kept<Row> {
  get(number: number): Row | undefined;
  keys(): Iterable<number>;
  set(number: number, row: Row): unknown;
  clear(): void;
}

/** Makes rows what others are, and leaves alone what is the same in both: nobody who watches only that is told. */
export function alterRows(live: LiveRows, others: LiveRows): void {
  if (!isEqual(live.session, others.session)) live.session = others.session;
  alter(live.sections, others.sections);
  alter(live.elements, others.elements);
  alter(live.signals, others.signals);
  alterTrains(live, others);
  alter(live.alarms, others.alarms);
  alter(live.runs, others.runs);
  if (!isEqual(live.lineUp, others.lineUp)) live.lineUp = others.lineUp;
  if (!isEqual(live.strangers, others.strangers)) live.strangers = others.strangers;
  if (!isEqual(live.log, others.log)) live.log = others.log;
}

function alter<Row>(kept: Kept<Row>, others: Kept<Row>): void {
  const numbers = [...others.keys()];
  // Rows stand in the order in which they came: where others came, all come anew.
  if (!isEqual([...kept.keys()], numbers)) kept.clear();
  for (const number of numbers) {
    const row = others.get(number)!;
    if (!isEqual(kept.get(number), row)) kept.set(number, row);
  }
}

/** Whether the holder of a track is coming to its signal shows in a train's path alone. */
function alterTrains(live: LiveRows, others: LiveRows): void {
  const paths = new Map([...live.trains].map(([train, { path }]) => [train, path]));
  alter(live.trains, others.trains);
  for (const train of new Set([...paths.keys(), ...live.trains.keys()])) {
    const [before, now] = [paths.get(train) ?? [], live.trains.get(train)?.path ?? []];
    if (isEqual(before, now)) continue;
    for (const { element } of [...before, ...now]) live.elements.touch(element);
  }
}
