import type { RecordedSize } from './recording-store.js';

/** How much is kept of recordings: sessions, and megabytes (of a million bytes) of all together. */
export interface RecordingLimits {
  readonly sessions: number;
  readonly megabytes: number;
}

/**
 * The sessions whose recordings have to go so that the limits hold, the oldest first. `sizes`: oldest first. The one that
 * is being recorded stays, however large it is.
 */
export function recordingsToDrop(
  sizes: readonly RecordedSize[],
  limits: RecordingLimits,
  recorded: number,
): number[] {
  let { length } = sizes;
  let bytes = sizes.reduce((sum, size) => sum + size.bytes, 0);
  const dropped: number[] = [];
  for (const size of sizes) {
    if (length <= limits.sessions && bytes <= limits.megabytes * 1_000_000) break;
    if (size.session === recorded) continue;
    dropped.push(size.session);
    length--;
    bytes -= size.bytes;
  }
  return dropped;
}
