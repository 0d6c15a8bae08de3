// What a page's main thread does, of a trace and a profile of Chromium: for whoever looks where the time of a picture goes.

/** @typedef {import('./frame-times.mjs').TraceEvent} TraceEvent */

/** How many kinds of work and functions are told. */
const TOLD = 14;

/**
 * Milliseconds of processor time by kind of work, each without what lies within it, the greatest first.
 * @param {TraceEvent[]} events of one thread
 * @param {number} pictures
 */
export function workByKind(events, pictures) {
  const spans = events
    .filter(({ ph, dur }) => ph === 'X' && dur !== undefined)
    .toSorted((p, q) => p.ts - q.ts || (q.dur ?? 0) - (p.dur ?? 0));
  const own = new Map();
  /** Spans that lie around the present one. */
  const open = [];
  for (const { name, ts, dur = 0, tdur = dur } of spans) {
    while (open.length > 0 && open.at(-1).end <= ts) open.pop();
    const around = open.at(-1);
    if (around) own.set(around.name, (own.get(around.name) ?? 0) - tdur);
    own.set(name, (own.get(name) ?? 0) + tdur);
    open.push({ name, end: ts + dur });
  }
  return greatest([...own].map(([name, spent]) => [name, spent / 1000 / pictures]));
}

/**
 * Milliseconds a picture in each function itself, the greatest first.
 * @param {{ nodes: any[], samples?: number[], timeDeltas?: number[] }} profile of the Profiler domain
 * @param {number} pictures
 */
export function workByFunction({ nodes, samples = [], timeDeltas = [] }, pictures) {
  const names = new Map(
    nodes.map(({ id, callFrame: { functionName, lineNumber } }) => [
      id,
      `${functionName || '(anonymous)'}:${lineNumber + 1}`,
    ]),
  );
  const spent = new Map();
  samples.forEach((id, index) => {
    const name = names.get(id) ?? '';
    spent.set(name, (spent.get(name) ?? 0) + (timeDeltas[index] ?? 0) / 1000 / pictures);
  });
  for (const idle of ['(idle):0', '(program):0']) spent.delete(idle);
  return greatest([...spent]);
}

/** @param {[string, number][]} spent */
const greatest = (spent) => spent.toSorted(([, p], [, q]) => q - p).slice(0, TOLD);

/**
 * @param {string} title
 * @param {[string, number][]} rows
 */
export const costText = (title, rows) =>
  [`  ${title}, ms a picture:`, ...rows.map(([name, ms]) => `    ${ms.toFixed(3)}  ${name}`)].join(
    '\n',
  );
