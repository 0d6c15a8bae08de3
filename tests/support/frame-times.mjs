// What the main thread of a page does for each picture it draws, from a trace of Chromium.

/** @typedef {{ name: string, ph: string, pid: number, tid: number, ts: number, dur?: number, tdur?: number, args?: any }} TraceEvent */

export const TRACED = ['toplevel', 'devtools.timeline', 'disabled-by-default-devtools.timeline'];

/** Tasks that run one after the other on a thread, by the names Chromium has for them. */
const TASKS = new Set(['RunTask', 'ThreadControllerImpl::RunTask']);

/**
 * Milliseconds of work on the main thread from each picture to the next, of the page that drew most: the clock's, and the
 * processor's, which other programs on the machine don't lengthen.
 * @param {TraceEvent[]} events
 */
export function frameTimes(events) {
  const own = drawingThread(events);
  const starts = own
    .filter(({ name }) => name === 'FireAnimationFrame')
    .map(({ ts }) => ts)
    .toSorted((p, q) => p - q);
  const tasks = own
    .filter(({ name, ph, dur }) => TASKS.has(name) && ph === 'X' && dur !== undefined)
    .toSorted((p, q) => p.ts - q.ts);
  const wall = new Float64Array(starts.length);
  const processor = new Float64Array(starts.length);
  let frame = -1;
  let busyUntil = 0;
  for (const { ts, dur = 0, tdur = dur } of tasks) {
    // A task within a task is part of it.
    if (ts < busyUntil) continue;
    busyUntil = ts + dur;
    while (frame + 1 < starts.length && (starts[frame + 1] ?? Infinity) <= ts + dur) frame += 1;
    if (frame < 0) continue;
    wall[frame] = (wall[frame] ?? 0) + dur / 1000;
    processor[frame] = (processor[frame] ?? 0) + tdur / 1000;
  }
  // What was under way when the trace ended is no whole picture.
  return { wall: [...wall].slice(0, -1), processor: [...processor].slice(0, -1) };
}

/**
 * The events of the main thread that drew most.
 * @param {TraceEvent[]} events
 */
export function drawingThread(events) {
  const drawn = events.filter(({ name }) => name === 'FireAnimationFrame');
  const thread = busiest(drawn.map(({ pid, tid }) => `${pid}:${tid}`));
  return events.filter(({ pid, tid }) => `${pid}:${tid}` === thread);
}

/** @param {string[]} names */
function busiest(names) {
  const counts = new Map();
  for (const name of names) counts.set(name, (counts.get(name) ?? 0) + 1);
  return [...counts].toSorted(([, p], [, q]) => q - p)[0]?.[0] ?? '';
}

/**
 * The value below which a share (0 to 1) of all values lie.
 * @param {number[]} values
 * @param {number} share
 */
export function quantile(values, share) {
  const sorted = values.toSorted((p, q) => p - q);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
}
