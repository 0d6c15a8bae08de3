/**
 * What can be measured, in the order in which it is when nothing is named. Apart from the benchmarks, which bring the whole server
 * with them.
 */
export const BENCHMARK_NAMES = [
  'stop',
  'steps',
  'growth',
  'dispatching',
  'rehearsal',
  'board',
  'journal',
  'recording',
  'staging',
  'plan',
  'restart',
] as const;

export type BenchmarkName = (typeof BENCHMARK_NAMES)[number];
