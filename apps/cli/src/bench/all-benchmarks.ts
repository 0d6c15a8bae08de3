import { boardTraffic } from './board-traffic.js';
import { detectionGrowth } from './detection-growth.js';
import { dispatchingCost } from './dispatching-cost.js';
import { edgeToStop } from './edge-to-stop.js';
import { journalSize } from './journal-size.js';
import { rehearsalSpeed } from './rehearsal-speed.js';
import { recordingSize } from './recording-size.js';
import { planBenefit } from './planning/plan-benefit.js';
import type { Benchmark } from './report.js';
import { restartTime } from './restart-time.js';
import { stagingAllocation } from './staging-allocation.js';
import { stepLatency } from './step-latency.js';

/** In the order in which they run when none is named; first the one that must not inherit the others' memory. */
export const BENCHMARKS: readonly Benchmark[] = [
  edgeToStop,
  stepLatency,
  detectionGrowth,
  dispatchingCost,
  rehearsalSpeed,
  boardTraffic,
  journalSize,
  recordingSize,
  stagingAllocation,
  planBenefit,
  restartTime,
];
