export { chainOf, nextChain } from './effect-chain.js';
export { countBatches, countInputs, lastThatCounts, tornText } from './counted-batches.js';
export type { CountedInputs, Opening, StoredBatch } from './counted-batches.js';
export { engineVersion } from './engine-version.js';
export { runName, seedOf, SessionReplay } from './session-replay.js';
export type { ReplayedBatch, SavedReplay } from './session-replay.js';
export { summariseSession } from './summary/session-summary.js';
export type { SessionSummary } from './summary/session-summary.js';
export { causesText, summaryTables } from './summary/summary-tables.js';
