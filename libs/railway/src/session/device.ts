import type { DecoderAddress } from '../stock/stock-file.js';

/** A decoder that answered, by its own address or by that of its consist. */
export interface ReadDecoder extends DecoderAddress {
  /** Towards which end of its block the locomotive's front looks, where the detector can tell. */
  readonly facing?: 'a' | 'b';
}

/**
 * What passes between the engine and a layout, real or simulated: the device port. Indexes are those of
 * the compiled layout. Nothing above the port can tell which kind of layout it has.
 */
export type DeviceEvent =
  | { readonly kind: 'section'; readonly section: number; readonly occupied: boolean }
  /** All decoders that can be read in the section now; empty says nothing about vacancy. */
  | {
      readonly kind: 'report';
      readonly section: number;
      readonly decoders: readonly ReadDecoder[];
      /** More answer at once than the detector can tell apart; it heard them, and none is named. */
      readonly crowded?: boolean;
    }
  /** A drive (turnout or reversing section) is proven in a position; null: moving or unknown. */
  | { readonly kind: 'drive'; readonly element: number; readonly position: string | null }
  | { readonly kind: 'power'; readonly district: number; readonly state: 'on' | 'off' | 'short' }
  | { readonly kind: 'bus'; readonly bus: string; readonly alive: boolean };

export type Aspect = 'stop' | 'call-on' | 'caution' | 'proceed';

export type DeviceCommand =
  | { readonly kind: 'set-drive'; readonly element: number; readonly position: string }
  /** Speed step 0 to 126 of one decoder; 0 brakes with the decoder's momentum. */
  | {
      readonly kind: 'set-speed';
      readonly address: DecoderAddress;
      readonly forward: boolean;
      readonly step: number;
    }
  /** Every decoder to speed 0, in one broadcast; power stays on. */
  | { readonly kind: 'stop-all' }
  | { readonly kind: 'set-aspect'; readonly heading: number; readonly aspect: Aspect }
  | { readonly kind: 'set-power'; readonly district: number; readonly on: boolean }
  /** Whoever lives is to say so, and every drive with feedback how it lies; sections tell their state when power comes. */
  | { readonly kind: 'ask-state' };
