import type { Millimetres, MillimetresPerSecond, MillimetresPerSecondSquared } from '../units.js';
import type { LocomotiveFile, StockFile, TrainFile } from './stock-file.js';

export type TrainIndex = number;

/** A stretch of the train counted in millimetres back from its front. */
export interface Extent {
  readonly from: Millimetres;
  readonly to: Millimetres;
}

/** A locomotive in its place in the train. */
export interface PlacedLocomotive {
  readonly file: LocomotiveFile;
  readonly extent: Extent;
  /** Whether "decoder forward" moves the train front first. */
  readonly facingForward: boolean;
}

/** A train as engine and simulation use it, computed once from the stock file. */
export interface Train {
  readonly index: TrainIndex;
  readonly file: TrainFile;
  /** Greatest total length. */
  readonly length: Millimetres;
  readonly locomotives: readonly PlacedLocomotive[];
  /** The stretches that detectors see, merged, in order from the front. */
  readonly detected: readonly Extent[];
  /** Undetected stretch at the front and at the rear. */
  readonly unseenFront: Millimetres;
  readonly unseenRear: Millimetres;
  readonly topSpeed: MillimetresPerSecond;
  /** The weakest of its locomotives' values. */
  readonly acceleration: MillimetresPerSecondSquared;
  readonly braking: MillimetresPerSecondSquared;
  /** Worst deviation in permille. */
  readonly speedSpread: number;
  readonly brakingSpread: number;
  readonly runOn: Millimetres;
  /** Whether any of its decoders answers. */
  readonly answers: boolean;
  /** How many of its decoders answer. */
  readonly answering: number;
  /** Every address that may be read for it (`short:3`): those of its locomotives, and of their consist. */
  readonly addresses: readonly string[];
}

export interface Stock {
  readonly file: StockFile;
  readonly trains: readonly Train[];
  readonly trainByName: ReadonlyMap<string, TrainIndex>;
  /** Decoder address (`short:3`) → train that carries it. */
  readonly trainByAddress: ReadonlyMap<string, TrainIndex>;
}
