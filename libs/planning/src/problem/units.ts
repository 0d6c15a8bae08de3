/** Physical ms in one unit of time of the scheduling problem. */
export const TICK = 100;

/** Ticks that are enough for so many ms. */
export const ticks = (ms: number): number => Math.ceil(ms / TICK);
