/** What a key does to the recording that is shown. */
export type TransportDeed =
  | { readonly kind: 'toggle' }
  /** By so many ms of session time. */
  | { readonly kind: 'move'; readonly by: number }
  | { readonly kind: 'begin' }
  | { readonly kind: 'end' };

const STEP = 5_000;
const LEAP = 60_000;

const MOVES: Readonly<Record<string, number>> = {
  ArrowLeft: -STEP,
  ArrowDown: -STEP,
  ArrowRight: STEP,
  ArrowUp: STEP,
  PageDown: -LEAP,
  PageUp: LEAP,
};

/** Null for a key that means nothing here. With Shift an arrow goes by a minute. */
export function deedOf(key: string, shift: boolean): TransportDeed | null {
  if (key === ' ') return { kind: 'toggle' };
  if (key === 'Home') return { kind: 'begin' };
  if (key === 'End') return { kind: 'end' };
  const by = MOVES[key];
  if (by === undefined) return null;
  return { kind: 'move', by: shift ? Math.sign(by) * LEAP : by };
}
