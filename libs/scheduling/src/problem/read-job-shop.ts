import type { Operation, Problem, Train } from './problem.js';
import type { ReadFault, ReadResult } from './read-problem.js';

/**
 * Reads a job shop: a line with the numbers of jobs and machines, then for each job a line of pairs "machine
 * duration". In the problem made from it a machine stays blocked until the job's next machine is free, just as a
 * train holds its block until the next one is, and two jobs can't change places; the aim is the shortest makespan.
 */
export function readJobShop(text: string): ReadResult<Problem> {
  const faults: ReadFault[] = [];
  const lines = text
    .split('\n')
    .map((line, i) => ({ line: i + 1, words: line.trim().split(/\s+/) }))
    .filter(({ words }) => words[0] !== '');
  const numbers = lines.map(({ line, words }) =>
    words.map((word) => {
      if (!/^\d{1,9}$/.test(word))
        faults.push({ place: `line ${line}`, message: `“${word}” is not a whole number.` });
      return Number(word);
    }),
  );
  const [jobs = 0, machines = 0, ...more] = numbers[0] ?? [];
  if (numbers.length === 0 || more.length > 0 || jobs < 1 || machines < 1)
    faults.push({
      place: 'line 1',
      message: 'The numbers of jobs and machines are expected here.',
    });
  else if (numbers.length !== jobs + 1)
    faults.push({
      place: 'file',
      message: `Line 1 speaks of ${jobs} jobs, but ${numbers.length - 1} follow.`,
    });
  const trains = numbers.slice(1).map((job, j): Train => {
    const place = `line ${lines[j + 1]!.line}`;
    if (job.length === 0 || job.length % 2 === 1)
      faults.push({ place, message: 'Pairs of a machine and a duration are expected here.' });
    const steps = job.length / 2;
    const operations: Operation[] = [];
    for (let step = 0; step < steps; step++) {
      const machine = job[2 * step]!;
      if (machine >= machines)
        faults.push({ place, message: `Machines are numbered 0 to ${machines - 1}.` });
      operations.push({
        startLb: 0,
        startUb: Infinity,
        minDuration: job[2 * step + 1]!,
        resources: [{ resource: `machine ${machine}`, releaseTime: 0 }],
        successors: [step + 1],
      });
    }
    return [
      ...operations,
      { startLb: 0, startUb: Infinity, minDuration: 0, resources: [], successors: [] },
    ];
  });
  if (faults.length > 0) return { ok: false, faults };
  return { ok: true, value: { trains, objective: [{ type: 'makespan', coeff: 1 }] } };
}
