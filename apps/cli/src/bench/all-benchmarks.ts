import { boardTraffic } from './board-traffic.js';
import { dispatchingCost } from './dispatching-cost.js';
import { edgeToStop } from './edge-to-stop.js';
import { journalSize } from './journal-size.js';
import { rehearsalSpeed } from './rehearsal-speed.js';
import type { Benchmark } from './report.js';
import { stepLatency } from './step-latency.js';

/** In the order in which they run when none is named. */
export const BENCHMARKS: readonly Benchmark[] = [
  stepLatency,
  dispatchingCost,
  rehearsalSpeed,
  edgeToStop,
  boardTraffic,
  journalSize,
];
