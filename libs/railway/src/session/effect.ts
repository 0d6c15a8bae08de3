import type { DeviceCommand } from './device.js';
import type { Refusal } from './refusal.js';

/** What the engine wants done. The shell carries them out in order, after the step. */
export type Effect =
  | { readonly kind: 'device'; readonly command: DeviceCommand }
  | {
      readonly kind: 'alarm';
      readonly alarm: number;
      readonly raised: boolean;
      readonly text: string;
    }
  /** A decision worth reading later, in plain words. */
  | { readonly kind: 'log'; readonly text: string; readonly train: number | null }
  /** The answer to a command: null when it was accepted. */
  | { readonly kind: 'answer'; readonly refusal: Refusal | null };
