import type { DecoderAddress } from '@blockbell/railway/track';

interface Scripted {
  /** When it happens, ms; one that lies in the past happens at once. */
  readonly at: number;
}

/** What lasts: for `duration` ms, or until it is mended when null. */
interface Lasting extends Scripted {
  readonly duration: number | null;
}

/** Which messages a fault of the message path concerns; all sections when `section` is null. */
interface OfMessages extends Lasting {
  readonly section: number | null;
  readonly messages: 'edges' | 'reports' | 'both';
}

/** What goes wrong on a section or on the way of its messages. */
export type SectionFault =
  /** Reads free though it is occupied. */
  | (Lasting & { readonly kind: 'dropout'; readonly section: number })
  /** Reads occupied whatever stands there. */
  | (Lasting & { readonly kind: 'stuck-detector'; readonly section: number })
  /** Reports one decoder that isn't there in place of those that are. */
  | (Lasting & { readonly kind: 'misread'; readonly section: number; readonly as: DecoderAddress });

export type MessageFault =
  /** Up to `by` ms later than the detector's worst. */
  | (OfMessages & { readonly kind: 'late'; readonly by: number })
  | (OfMessages & { readonly kind: 'lost'; readonly permille: number })
  | (OfMessages & { readonly kind: 'duplicated'; readonly permille: number })
  /** No longer first in, first out. */
  | (OfMessages & { readonly kind: 'reordered' });

export type BusFault = Lasting & { readonly kind: 'bus-silence'; readonly bus: string };

export type DecoderFault = Lasting & {
  readonly kind: 'silent-decoder';
  readonly address: DecoderAddress;
};

export type TrainFault =
  /** Stops dead and stays, until a nudge. */
  | (Lasting & { readonly kind: 'stall'; readonly train: number })
  /** Stored energy carries it `permille` of its declared run-on. */
  | (Lasting & { readonly kind: 'run-on'; readonly train: number; readonly permille: number })
  /** Ignores every command and runs at `speed` mm/s, front first (positive) or rear first. */
  | (Lasting & { readonly kind: 'runaway'; readonly train: number; readonly speed: number })
  /** Wheels slip: it runs at `permille` of its speed. */
  | (Lasting & { readonly kind: 'slip'; readonly train: number; readonly permille: number })
  /** The last `length` mm come off and stay behind. */
  | (Scripted & { readonly kind: 'lost-cars'; readonly train: number; readonly length: number })
  /** The cars that it left behind are lifted off the layout by hand. */
  | (Scripted & { readonly kind: 'cars-lifted'; readonly train: number })
  /** Another train is hung on behind it by hand while both stand; what is moved by hand is taken off first. */
  | (Scripted & { readonly kind: 'coupled'; readonly train: number; readonly other: number })
  /** Lifted by hand and set down in a block, at its stop mark; null: taken off the layout. */
  | (Scripted & {
      readonly kind: 'hand-moved';
      readonly train: number;
      readonly to: number | null;
    });

/** A turnout or reversing section that ignores its commands. */
export type DriveFault = Lasting & { readonly kind: 'stuck-drive'; readonly element: number };

export type PowerFault =
  /** No current until it ends; then on again if it was commanded on. */
  | (Lasting & { readonly kind: 'power-loss'; readonly district: number })
  /** Something bridges the rails: power can't be switched on before it ends, and comes on by command only. */
  | (Lasting & { readonly kind: 'short'; readonly district: number });

export type Fault =
  SectionFault | MessageFault | BusFault | DecoderFault | TrainFault | DriveFault | PowerFault;
export type FaultKind = Fault['kind'];
