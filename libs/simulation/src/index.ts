export { createSimulatedLayout, resumeSimulatedLayout } from './simulated-layout.js';
export type { SimulatedLayout } from './simulated-layout.js';
export type { Fault, FaultKind } from './faults/fault.js';
export type { Incident, SimulationState } from './state.js';
export type { TruthTrain } from './truth.js';
export { forkStream, nextBetween } from './random.js';
export type { RandomStream } from './random.js';
export * from './generator/index.js';
