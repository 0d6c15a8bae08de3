import type { Problem } from '../problem/problem.js';

/**
 * The problem as a mixed-integer program in the text form solvers read (LP format), written from the definition of
 * the format alone: for each operation whether the path has it, its start and its place in the list of events; for
 * each two operations of different trains that want the same resource, which of them goes first. Ties of time are
 * settled by the places: what comes after stands at least one place behind.
 */
export function milpText(problem: Problem): string {
  const rows: string[] = [];
  const binaries = new Set<string>();
  const costs: string[] = [];
  const operations = problem.trains.flatMap((train, t) =>
    train.map((operation, o) => ({ ...operation, t, o, name: `${t}_${o}` })),
  );
  const horizon = operations.reduce(
    (sum, { minDuration, resources }) =>
      sum + minDuration + Math.max(0, ...resources.map(({ releaseTime }) => releaseTime)),
    Math.max(...operations.map(({ startLb }) => startLb)),
  );
  const places = operations.length + 1;
  const bounds: string[] = [];
  /** `later` is `weight` after `earlier`, and behind it in the list, if all the binaries are 1. */
  const follows = (
    earlier: string,
    later: string,
    weight: number,
    when: readonly string[],
  ): void => {
    const slack = (most: number): string => when.map((name) => ` - ${most} ${name}`).join('');
    const right = (most: number, least: number): number => least - most * when.length;
    rows.push(
      `t${later} - t${earlier}${slack(horizon + weight)} >= ${right(horizon + weight, weight)}`,
      `p${later} - p${earlier}${slack(places + 1)} >= ${right(places + 1, 1)}`,
    );
  };
  for (const { t, o, name, startLb, startUb, minDuration, successors } of operations) {
    binaries.add(`x${name}`);
    // Nothing is lost: nobody has to go beyond the horizon.
    bounds.push(`${startLb} <= t${name} <= ${horizon}`, `0 <= p${name} <= ${places}`);
    if (startUb < horizon) rows.push(`t${name} + ${horizon} x${name} <= ${startUb + horizon}`);
    for (const next of successors) {
      const way = `y${name}_${next}`;
      binaries.add(way);
      follows(name, `${t}_${next}`, minDuration, [way]);
    }
    const out = successors.map((next) => `y${name}_${next}`);
    const into = problem.trains[t]!.flatMap(({ successors: ways }, from) =>
      ways.includes(o) ? [`y${t}_${from}_${o}`] : [],
    );
    if (o === 0) rows.push(`x${name} = 1`);
    if (out.length > 0) rows.push(`${out.join(' + ')} - x${name} = 0`);
    if (into.length > 0) rows.push(`${into.join(' + ')} - x${name} = 0`);
  }
  for (const a of operations) {
    for (const b of operations) {
      if (a.t >= b.t) continue;
      for (const { resource, releaseTime } of a.resources) {
        const other = b.resources.find((use) => use.resource === resource);
        if (other === undefined) continue;
        const first = `f${a.name}_${b.name}_${resource}`;
        const second = `f${b.name}_${a.name}_${resource}`;
        binaries.add(first).add(second);
        rows.push(`${first} + ${second} - x${a.name} - x${b.name} >= -1`);
        if (a.successors.length === 0) rows.push(`${first} = 0`);
        if (b.successors.length === 0) rows.push(`${second} = 0`);
        for (const next of a.successors)
          follows(`${a.t}_${next}`, b.name, releaseTime, [
            first,
            `y${a.name}_${next}`,
            `x${b.name}`,
          ]);
        for (const next of b.successors)
          follows(`${b.t}_${next}`, a.name, other.releaseTime, [
            second,
            `y${b.name}_${next}`,
            `x${a.name}`,
          ]);
      }
    }
  }
  problem.objective.forEach((component, i) => {
    if (component.type === 'makespan') {
      costs.push(`${component.coeff} m${i}`);
      problem.trains.forEach((train, t) => rows.push(`m${i} - t${t}_${train.length - 1} >= 0`));
      return;
    }
    const { train, operation, threshold, coeff, increment } = component;
    const name = `${train}_${operation}`;
    costs.push(`${coeff} d${i}`, `${increment} g${i}`);
    const most = horizon + Math.abs(threshold) + 1;
    binaries.add(`g${i}`);
    rows.push(
      `d${i} - t${name} - ${most} x${name} >= ${-threshold - most}`,
      `t${name} - ${most} g${i} + ${most} x${name} <= ${threshold - 1 + most}`,
    );
  });
  return [
    'Minimize',
    ` cost: ${costs.join(' + ')}`,
    'Subject To',
    ...rows.map((row, i) => ` c${i}: ${row}`),
    'Bounds',
    ...bounds.map((bound) => ` ${bound}`),
    'Binary',
    ` ${[...binaries].join(' ')}`,
    'End',
    '',
  ].join('\n');
}
