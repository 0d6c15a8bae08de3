export { createSimulatedLayout, resumeSimulatedLayout } from './simulated-layout.js';
export type { SimulatedLayout, SimulationSetup } from './simulated-layout.js';
export type * from './faults/fault.js';
export type { Delivery, Incident, IncidentKind, SimulationState } from './state.js';
export type { Truth, TruthPlace, TruthStretch, TruthTrain } from './truth.js';
export * from './generator/index.js';
