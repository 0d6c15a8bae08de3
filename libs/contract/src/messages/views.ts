import { z } from 'zod';
import { serviceSchema } from '../files/timetable-schema.js';

/**
 * What a board sees: one row per thing, sent whole in a snapshot and again whenever it changes. Indexes are
 * those of the compiled layout, stock and timetable, which the board compiles itself from the session's files.
 * Lengths are mm along the train's path, speeds mm/s, times physical ms unless they are called fast.
 */
const index = z.int().min(0);
const indexOrNone = z.int().min(-1);

export const phaseView = z.enum([
  'set-up',
  'line-up',
  'running',
  'paused',
  'stopped',
  'powerless',
  'ending',
  'ended',
]);

export const sessionView = z.strictObject({
  id: z.string(),
  name: z.string(),
  day: z.string(),
  phase: phaseView,
  /** Why it stands as it does, where that needs a word. */
  why: z.string().nullable(),
  departuresHeld: z.boolean(),
  clock: z.strictObject({
    fast: z.number(),
    since: z.number(),
    ratio: z.number(),
    running: z.boolean(),
  }),
  /** Physical ms per wall-clock ms of the simulated layout; 1 on a real one. */
  pace: z.number(),
  device: z.string(),
  districts: z.array(z.enum(['on', 'off', 'short'])),
  /** What still keeps the session from being started or resumed. */
  openQuestions: z.int(),
  /** Name of the rules by which staging yards are worked; null: none. Left out in recordings that are older than it. */
  stagingRules: z.string().nullish(),
  /** What was added to the timetable since the session began. Left out in recordings that are older than it. */
  added: z
    .strictObject({
      services: z.array(z.strictObject({ train: index, file: serviceSchema })),
      workings: z.array(z.strictObject({ train: index, services: z.array(index) })),
      /** Calls made at another station than booked, by its index, and why. */
      elsewhere: z
        .array(
          z.strictObject({
            train: index,
            service: index,
            call: index,
            station: index,
            why: z.string(),
          }),
        )
        .optional(),
    })
    .optional(),
  /**
   * By index of a staging yard and of a track in it, as `yard track`: which arrival put by rules was the last there, counted from 1;
   * tracks that got none are not named. Left out in recordings that are older than it.
   */
  stagingUsed: z.record(z.string(), z.int()).optional(),
  /**
   * By service of the timetable that names no train: what has become of it. `why`: why it has none yet or is not run, or why this train works it.
   * Left out in recordings that are older than it.
   */
  openServices: z
    .array(
      z.strictObject({
        state: z.enum(['awaited', 'given', 'not-run']),
        train: index.nullable(),
        why: z.string().nullable(),
      }),
    )
    .optional(),
  /** Who drives which train, by name; trains without a crew are not listed. */
  crews: z.array(z.strictObject({ train: index, name: z.string() })),
});
export type SessionView = z.infer<typeof sessionView>;

export const sectionView = z.strictObject({
  section: index,
  belief: z.enum(['clear', 'occupied', 'unknown']),
  claim: indexOrNone,
  /** Occupied by nobody known: the evidence in words. */
  unidentified: z.string().nullable(),
  /** Said to be clear by a person, and not proven by a train since: in words. */
  clearByHand: z.string().nullable(),
});
export type SectionView = z.infer<typeof sectionView>;

export const elementView = z.strictObject({
  element: index,
  position: z.string().nullable(),
  proof: z.enum(['none', 'moving', 'proven', 'presumed', 'failed']),
  holder: indexOrNone,
  /** What it is closed for; null while it is open. */
  possession: z.string().nullable(),
  /** Closed, and clear of every train: work may be done there. */
  forWork: z.boolean(),
});
export type ElementView = z.infer<typeof elementView>;

export const signalView = z.strictObject({
  heading: index,
  aspect: z.enum(['stop', 'call-on', 'caution', 'proceed']),
});
export type SignalView = z.infer<typeof signalView>;

export const trainView = z.strictObject({
  train: index,
  activity: z.enum(['absent', 'standing', 'moving', 'stopping', 'halted']),
  known: z.enum(['reported', 'inferred', 'declared', 'expected', 'ambiguous']),
  evidence: z.string(),
  /** The doubt it is in: where it is believed, what is known of it, and who may stand there, the likeliest first. */
  doubt: z
    .strictObject({
      block: index,
      lines: z.array(z.string()),
      candidates: z.array(z.strictObject({ train: index, why: z.string(), share: z.int() })),
    })
    .nullable(),
  confirmed: z.boolean(),
  /** Its held way, rear to front; `from`/`to` are the ports of the element in the direction of travel. */
  path: z.array(
    z.strictObject({
      element: index,
      from: z.string(),
      to: z.string(),
      start: z.number(),
      end: z.number(),
    }),
  ),
  /** The estimate of its head at `since`, for the board to go on from: mm, mm/s, mm/s² towards `target`. */
  motion: z.strictObject({
    head: z.number(),
    speed: z.number(),
    target: z.number(),
    acceleration: z.number(),
    since: z.number(),
  }),
  /** Path position it has authority to. */
  mark: z.number(),
  length: z.number(),
  frontLeads: z.boolean(),
  service: z.string().nullable(),
  where: z.string(),
  next: z.string().nullable(),
  nextFast: z.number().nullable(),
  /** Fast-clock seconds behind its booked time, in whole minutes; negative: early. */
  lateness: z.number(),
  /**
   * When it is expected at its next calls, fast ms to half a minute: by the plan that is followed, or by what is booked and how late
   * it is; null when it has no work ahead. Left out in recordings that are older than it.
   */
  forecast: z
    .strictObject({
      by: z.enum(['plan', 'lateness']),
      calls: z.array(
        z.strictObject({
          service: index,
          call: index,
          arrive: z.number().nullable(),
          depart: z.number().nullable(),
        }),
      ),
    })
    .nullish(),
  held: z.boolean(),
  /** What a dispatcher wishes of it. Left out in recordings that are older than it. */
  wishes: z
    .strictObject({
      /** The track chosen for a call, by its name in the timetable. */
      tracks: z.array(z.strictObject({ service: index, call: index, track: z.string() })),
      /** Trains that it is to go before. */
      before: z.array(index),
      /** Services of its work that are not run. */
      cancelled: z.array(index),
    })
    .optional(),
  /**
   * Why it takes, or took, its track in a staging yard, one sentence; `station` is the yard's index. Null: nobody chose one. Left out
   * in recordings that are older than it.
   */
  staging: z.strictObject({ station: index, why: z.string() }).nullish(),
  /** Speed its crew asks for, mm/s; null while it runs by itself. */
  handSpeed: z.number().nullable(),
  topSpeed: z.number(),
  /** One sentence why it waits, and the chain of causes behind it. */
  wait: z.string().nullable(),
  chain: z.array(z.string()),
});
export type TrainView = z.infer<typeof trainView>;

/** What of a train's row changed: trains change often, and most of a row stays. */
export const trainChange = trainView.partial().required({ train: true });
export type TrainChange = z.infer<typeof trainChange>;

export const alarmView = z.strictObject({
  id: index,
  text: z.string(),
  mend: z.string(),
  raisedAt: z.number(),
  raisedFast: z.number(),
  clearedAt: z.number().nullable(),
  acknowledgedBy: z.string().nullable(),
});
export type AlarmView = z.infer<typeof alarmView>;

/** One line of the line-up: a train's expected place against what detection says. */
export const lineUpView = z.strictObject({
  train: index,
  heading: indexOrNone,
  place: z.string(),
  status: z.enum(['confirmed', 'ask', 'missing', 'mismatch', 'absent']),
  text: z.string(),
});
export type LineUpView = z.infer<typeof lineUpView>;

/** A stretch occupied by nobody known. */
export const strangerView = z.strictObject({
  block: index,
  text: z.string(),
  /** The likeliest first; `share` of 100, to rank by. */
  candidates: z.array(z.strictObject({ train: index, why: z.string(), share: z.int() })),
});
export type StrangerView = z.infer<typeof strangerView>;

export const logView = z.strictObject({
  number: index,
  at: z.number(),
  fast: z.number(),
  text: z.string(),
  train: index.nullable(),
});
export type LogView = z.infer<typeof logView>;

/** What became of the time until an arrival: entry + own + all that was lost − recovered = later than booked; fast ms. */
const delayView = z.strictObject({
  entry: z.int().min(0),
  own: z.int().min(0),
  /** Waits, by the train waited for (−1: none), the element (−1: unknown) and the kind of reason. */
  lost: z.array(
    z.strictObject({
      train: indexOrNone,
      place: indexOrNone,
      why: z.string(),
      time: z.int().min(0),
    }),
  ),
  recovered: z.int().min(0),
});

/** Calls as run, for the time–distance graph: fast ms. */
export const runView = z.strictObject({
  train: index,
  calls: z.array(
    z.strictObject({
      service: index,
      call: index,
      arrived: z.number().nullable(),
      departed: z.number().nullable(),
      /** Null where no arrival is booked or none has happened; left out in recordings that are older than it. */
      delay: delayView.nullish(),
    }),
  ),
});
export type RunView = z.infer<typeof runView>;

/** All rows, as a snapshot holds them. */
export const rows = z.strictObject({
  session: sessionView.optional(),
  sections: z.array(sectionView).optional(),
  elements: z.array(elementView).optional(),
  signals: z.array(signalView).optional(),
  trains: z.array(trainView).optional(),
  alarms: z.array(alarmView).optional(),
  lineUp: z.array(lineUpView).optional(),
  strangers: z.array(strangerView).optional(),
  runs: z.array(runView).optional(),
  log: z.array(logView).optional(),
});
export type Rows = z.infer<typeof rows>;

/** Rows that changed, whole; of trains only what changed. */
export const changedRows = rows.extend({ trains: z.array(trainChange).optional() });
export type ChangedRows = z.infer<typeof changedRows>;

export const snapshotMessage = z.strictObject({
  epoch: z.string(),
  revision: index,
  /** Physical ms of the session now. */
  now: z.number(),
  rows,
});
export type SnapshotMessage = z.infer<typeof snapshotMessage>;

/** Applies to the state at `from` and no other; after a gap the board asks for a snapshot. */
export const deltaMessage = z.strictObject({
  epoch: z.string(),
  from: index,
  revision: index,
  now: z.number(),
  rows: changedRows,
});
export type DeltaMessage = z.infer<typeof deltaMessage>;
