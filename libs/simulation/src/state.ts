import type {
  DecoderAddress,
  DeviceEvent,
  ElementIndex,
  Layout,
  LocomotiveFile,
  ReadDecoder,
  Stock,
  TrainIndex,
} from '@blockbell/railway/track';
import type { EventQueue } from './event-queue.js';
import type { Fault, FaultKind } from './faults/fault.js';
import type { RandomStream } from './random.js';
import type { Track } from './track/track.js';
import type { Motion } from './train/motion.js';

/** The simulated layout: what never changes, and the truth as plain data. */
export interface Simulation {
  readonly world: World;
  readonly state: SimulationState;
}

export interface World {
  readonly layout: Layout;
  readonly stock: Stock;
  readonly track: Track;
  readonly locomotives: readonly LocomotiveInfo[];
  /** By `short:3`. */
  readonly locomotiveByAddress: ReadonlyMap<string, number>;
}

export interface LocomotiveInfo {
  readonly file: LocomotiveFile;
  readonly train: TrainIndex;
  readonly facingForward: boolean;
}

export interface SimulationState {
  /** ms since the session was created; has a fraction while nature's events are dealt with. */
  now: number;
  readonly queue: EventQueue<Due>;
  /** Delivered and not yet handed out. */
  readonly delivered: Delivery[];
  /** The trains by their index, then cars left behind. */
  readonly bodies: Body[];
  readonly locomotives: LocomotiveState[];
  /** By element; null where nothing is driven. */
  readonly drives: readonly (DriveState | null)[];
  readonly sections: readonly SectionState[];
  readonly districts: readonly DistrictState[];
  /** By place in the layout file. */
  readonly buses: readonly BusState[];
  /** By element: who is on it or fouls it. */
  readonly holders: readonly Holder[][];
  readonly contacts: Contact[];
  readonly incidents: Incident[];
  readonly faults: FaultState[];
  /** Sections whose occupancy or decoders may have changed in this event. */
  readonly touchedSections: number[];
}

export interface Delivery {
  readonly at: number;
  readonly event: DeviceEvent;
}

/** What is due: an event of nature or the delivery of a message. */
export type Due =
  | { readonly at: number; readonly kind: 'body'; readonly body: number; readonly plan: number }
  | { readonly at: number; readonly kind: 'edges'; readonly section: number }
  | { readonly at: number; readonly kind: 'reports'; readonly section: number }
  | { readonly at: number; readonly kind: 'message'; readonly event: DeviceEvent }
  | { readonly at: number; readonly kind: 'drive'; readonly element: number; readonly move: number }
  | {
      readonly at: number;
      readonly kind: 'silence-noticed';
      readonly bus: number;
      readonly fault: number;
    }
  | { readonly at: number; readonly kind: 'fault-begins'; readonly fault: number }
  | { readonly at: number; readonly kind: 'fault-ends'; readonly fault: number };

/** A part of a body that something reacts to. */
export interface Stretch {
  readonly kind: 'whole' | 'axles' | 'locomotive';
  /** mm back from the front. */
  readonly from: number;
  readonly to: number;
  /** Index of the locomotive; −1 for the others. */
  readonly locomotive: number;
}

/**
 * A rigid string of vehicles on the track: a train, or cars left behind. Its path is the ways under it, rear to front,
 * on one axis: way `i` begins at `starts[i]` mm, front first is rising. The ends of its stretches are its points:
 * `2 × stretch` the front end, `2 × stretch + 1` the rear end, each with the way and piece it is in.
 */
export interface Body {
  readonly id: number;
  readonly train: TrainIndex;
  readonly leftBehind: boolean;
  /** Whether it is on the layout. */
  present: boolean;
  length: number;
  /** The first is the whole body. */
  stretches: readonly Stretch[];
  readonly ways: number[];
  readonly starts: number[];
  readonly stepOf: number[];
  readonly pieceOf: number[];
  motion: Motion;
  /** Number of its plan; anything due for an older one is void. */
  plan: number;
  due: BodyDue;
  /** District that feeds its leading locomotive. */
  district: number;
  /** Braking on stored energy, mm/s²; 0 when it has none; null while fed. */
  coasting: number | null;
  /** Faults in force on it. */
  stalls: number;
  runaway: number | null;
  slipPermille: number;
  runOnPermille: number;
  /** The body that hangs on behind it, whose length and stretches are part of its own; that one is not present then. */
  hung: number | null;
  /** The fault by which it stands here, until it moves. */
  placedBy: number | null;
}

export type BodyDue =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'crossing'; readonly point: number }
  | { readonly kind: 'goal-speed' }
  | { readonly kind: 'contact'; readonly other: number; readonly way: number };

export interface LocomotiveState {
  /** Fixed deviations within the measured spread: 1 is as measured. */
  readonly speedFactor: number;
  readonly rateFactor: number;
  command: { readonly forward: boolean; readonly step: number } | null;
  silenced: number;
}

export interface DriveState {
  /** The last position it lay in. */
  position: string;
  /** Where it is going; null while it lies still. */
  moving: string | null;
  /** Number of its movement; anything due for an older one is void. */
  move: number;
  stuck: number;
  readonly stream: RandomStream;
}

export interface SectionState {
  /** How many stretches with axles overlap pieces of it. */
  axles: number;
  /** Locomotives over it, each with the number of pieces. */
  readonly locomotives: { readonly index: number; pieces: number }[];
  stuck: number;
  dropouts: number;
  misread: DecoderAddress | null;
  /** Whether its messages leave it: fed and on a living bus. */
  online: boolean;
  /** What it last saw. */
  seen: boolean;
  readable: Readable;
  readonly edges: Delivery[];
  readonly reports: Delivery[];
  touched: boolean;
  readonly edgeStream: RandomStream;
  readonly reportStream: RandomStream;
}

/** What a detector makes of the decoders in its section. */
export interface Readable {
  readonly decoders: readonly ReadDecoder[];
  /** More answer than it can tell apart. */
  readonly crowded: boolean;
}

export interface DistrictState {
  commanded: boolean;
  /** Tripped; until switched off or on again. */
  shorted: boolean;
  losses: number;
  bridged: number;
  powered: boolean;
  /** When its last message arrives. */
  lastMessage: number;
  readonly stream: RandomStream;
}

export interface BusState {
  silences: number;
  /** Whether the silence was told. */
  reportedSilent: boolean;
  readonly stream: RandomStream;
}

export interface Holder {
  readonly body: number;
  readonly slot: number;
  pieces: number;
}

/** Bodies that touch (`other` −1: the end of the track), each barred from moving on (1 forward, −1 reverse, 0 not). */
export interface Contact {
  readonly body: number;
  readonly other: number;
  readonly barsBody: -1 | 0 | 1;
  readonly barsOther: -1 | 0 | 1;
  /** One of the two has moved off while the other still pushes. */
  left: boolean;
}

export type IncidentKind =
  'contact' | 'run-through' | 'moved-under' | 'buffer-struck' | 'wrong-polarity';

/** Something that must never happen, as it happened. */
export interface Incident {
  readonly kind: IncidentKind;
  /** ms, rounded up. */
  readonly at: number;
  readonly element: ElementIndex;
  readonly trains: readonly TrainIndex[];
  /** How it came about, in words. */
  readonly detail: string;
  /** The faults in force then on these trains, this element, its sections, buses or district. */
  readonly causes: readonly { readonly fault: number; readonly kind: FaultKind }[];
}

export interface FaultState {
  readonly fault: Fault;
  active: boolean;
  ended: boolean;
  readonly stream: RandomStream;
}
