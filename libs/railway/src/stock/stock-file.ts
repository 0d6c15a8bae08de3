import type { CarId, LocomotiveId, TrainId } from '../ids.js';
import type { Millimetres, MillimetresPerSecond, MillimetresPerSecondSquared } from '../units.js';

/** A decoder address is a pair: 3 short and 3 long are two decoders. Partitions: NMRA S-9.2.1. */
export interface DecoderAddress {
  readonly kind: 'short' | 'long';
  readonly number: number;
}

/** One measured point of a speed table: 126-step command → speed. */
export interface SpeedPoint {
  readonly step: number;
  readonly speed: MillimetresPerSecond;
}

export interface LocomotiveFile {
  readonly id: LocomotiveId;
  readonly name: string;
  readonly address: DecoderAddress;
  readonly length: Millimetres;
  readonly topSpeed: MillimetresPerSecond;
  /** Measured, rising in step and speed; between points the speed is linear. */
  readonly speedTable: {
    readonly forward: readonly SpeedPoint[];
    readonly reverse: readonly SpeedPoint[];
  };
  /** Measured with the decoder's momentum included. */
  readonly acceleration: MillimetresPerSecondSquared;
  readonly braking: MillimetresPerSecondSquared;
  /** Worst deviation seen while measuring, in percent of the speed and of the braking. */
  readonly spread: { readonly speed: number; readonly braking: number };
  /** Whether its decoder answers identity requests. */
  readonly answers: boolean;
  /** How far stored energy carries it after power goes. */
  readonly runOn: Millimetres;
}

export interface CarFile {
  readonly id: CarId;
  readonly name: string;
  readonly length: Millimetres;
  /** Whether its axles are seen by detectors. */
  readonly detected: boolean;
}

export type VehicleFile =
  | { readonly locomotive: LocomotiveId; readonly facing: 'forward' | 'backward' }
  | { readonly car: CarId; readonly count: number };

export type TrainClass = 'express' | 'passenger' | 'freight' | 'works';

export interface TrainFile {
  readonly id: TrainId;
  /** What stands on its label on the board; at most 8 characters. */
  readonly label: string;
  readonly name: string;
  readonly class: TrainClass;
  /** 1 is most important, 9 least. */
  readonly priority: number;
  /** From its front (the end that leads when it runs forward) to its rear. */
  readonly vehicles: readonly VehicleFile[];
  /** May run with its rear leading (push-pull, light engine). */
  readonly canReverse: boolean;
  /** The one address its decoders answer with in place of their own, where they are set up as a consist. */
  readonly consistAddress?: DecoderAddress;
}

export interface StockFile {
  readonly kind: 'blockbell-stock';
  readonly version: 1;
  readonly id: string;
  readonly name: string;
  readonly locomotives: readonly LocomotiveFile[];
  readonly cars: readonly CarFile[];
  readonly trains: readonly TrainFile[];
}
