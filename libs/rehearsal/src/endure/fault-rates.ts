/**
 * How often things go wrong while a session runs. Edges are messages of detectors that a section has become occupied or
 * free; a throw is a command that moves a drive.
 */
export interface FaultRates {
  /** In 1,000 edges: lost contacts of 50 to 800 ms. */
  readonly dropouts: number;
  /** In 1,000 edges: lost contacts of 1 to 8 s, longer than any hold-off. */
  readonly longDropouts: number;
  /** In 1,000 edges: reports of decoders that never arrive. */
  readonly lostReports: number;
  /** In 1,000 edges: another decoder reported than those that are there. */
  readonly misreads: number;
  /** In 300 throws: drives that ignore their next command. */
  readonly stuckDrives: number;
  /** In 25 services: trains that stop dead. */
  readonly stalls: number;
  /** In a session, at most: faults of any other kind, at any time. */
  readonly mishaps: number;
  /** Whether stock is moved by hand, loses cars or runs away among the mishaps. */
  readonly lawless: boolean;
}

export const FAULT_LEVELS = ['none', 'ordinary', 'hard', 'brutal'] as const;
export type FaultLevel = (typeof FAULT_LEVELS)[number];

const NONE: FaultRates = {
  dropouts: 0,
  longDropouts: 0,
  lostReports: 0,
  misreads: 0,
  stuckDrives: 0,
  stalls: 0,
  mishaps: 0,
  lawless: false,
};

/** A railway in ordinary repair: the rates at which at least 95 of 100 services must run. */
const ORDINARY: FaultRates = {
  ...NONE,
  dropouts: 20,
  lostReports: 10,
  misreads: 1,
  stuckDrives: 1,
  stalls: 1,
};

export const RATES: Readonly<Record<FaultLevel, FaultRates>> = {
  none: NONE,
  ordinary: ORDINARY,
  hard: {
    ...ORDINARY,
    dropouts: 60,
    longDropouts: 2,
    lostReports: 30,
    misreads: 5,
    stuckDrives: 4,
    stalls: 3,
    mishaps: 2,
  },
  brutal: {
    dropouts: 120,
    longDropouts: 10,
    lostReports: 100,
    misreads: 20,
    stuckDrives: 12,
    stalls: 6,
    mishaps: 6,
    lawless: true,
  },
};
