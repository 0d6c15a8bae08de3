import { createHash } from 'node:crypto';
import type { Effect } from '@blockbell/railway';

/** Where a chain begins: SHA-256 of the name of what is recorded; hexadecimal. */
export const chainOf = (name: string): string => createHash('sha256').update(name).digest('hex');

/**
 * The chain after one more step: SHA-256 over the chain before it and the JSON of the step's effects. Two runs with the
 * same chain have had the same effects, to the byte, in every step.
 */
export const nextChain = (chain: string, effects: readonly Effect[]): string =>
  createHash('sha256').update(chain).update(JSON.stringify(effects)).digest('hex');
