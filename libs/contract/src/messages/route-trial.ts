import { z } from 'zod';

/** Asks for routes to be tried in simulation, on the layout and with the rolling stock of the session that runs. */
export const routeTrialMessage = z.strictObject({
  routes: z
    .array(z.string().max(200))
    .min(1)
    .max(100_000)
    .optional()
    .meta({ description: 'ids of the routes to try; absent: all of them' }),
  train: z
    .string()
    .max(100)
    .optional()
    .meta({ description: 'id of the train; absent: the longest that has room' }),
  seed: z.int().min(1).max(4_294_967_295).default(1),
});
export type RouteTrialMessage = z.infer<typeof routeTrialMessage>;

const use = z.strictObject({ used: z.int(), of: z.int(), unused: z.array(z.string()).readonly() });

/** One route tried: set, proven, run over and freed. */
export const triedRouteView = z.strictObject({
  route: z.string().meta({ description: 'its id' }),
  name: z.string().meta({ description: 'as people call it, by station and track' }),
  from: z.string().meta({ description: 'the end of a block, as layout files write it' }),
  to: z.string(),
  train: z.string().nullable().meta({ description: 'label; null where no train can try it' }),
  outcome: z.enum(['passed', 'failed', 'not-run']),
  fault: z.strictObject({ text: z.string(), mend: z.string().nullable() }).nullable(),
  notes: z.array(z.string()).readonly(),
  took: z.number().nullable().meta({ description: 'physical ms until what was left was free' }),
  short: z.number().nullable().meta({ description: 'mm before the stop mark' }),
  aspect: z.enum(['stop', 'call-on', 'caution', 'proceed']).nullable(),
  drives: z
    .array(
      z.strictObject({
        id: z.string(),
        position: z.string(),
        proven: z.number().nullable().meta({ description: 'physical ms; null: never' }),
        thrown: z.boolean(),
      }),
    )
    .readonly(),
  sections: z.array(z.string()).readonly(),
});
export type TriedRouteView = z.infer<typeof triedRouteView>;

export const routeTrialReport = z.strictObject({
  layout: z.strictObject({ name: z.string(), hash: z.string() }),
  seed: z.int(),
  trials: z.array(triedRouteView).readonly(),
  passed: z.int(),
  failed: z.int(),
  notRun: z.int(),
  coverage: z.strictObject({ drives: use, sections: use, signals: use }),
  whole: z.boolean().meta({ description: 'false: broken off before the end' }),
});
export type RouteTrialReport = z.infer<typeof routeTrialReport>;

/** What is read of a report that was kept: earlier ones have no names. */
export const keptTrialReport = z.object({
  layout: z.object({ name: z.string(), hash: z.string() }),
  trials: z
    .array(
      triedRouteView
        .pick({ route: true, outcome: true })
        .extend({ name: z.string().optional() })
        .loose(),
    )
    .readonly(),
});
export type KeptTrialReport = z.infer<typeof keptTrialReport>;

/** The trial that goes on, or the last one. */
export const routeTrialView = z.strictObject({
  ok: z.literal(true),
  layout: z
    .strictObject({ name: z.string(), hash: z.string() })
    .meta({ description: 'of the session that runs; a report of another hash is stale' }),
  trial: z
    .strictObject({
      state: z.enum(['running', 'ended', 'lost']),
      done: z.int(),
      of: z.int().nullable().meta({ description: 'null until the first route was tried' }),
      took: z.number().meta({ description: 'real ms since it began, or until it ended' }),
      failed: z
        .array(z.string())
        .readonly()
        .meta({ description: 'ids of routes that failed so far' }),
      why: z.string().nullable().meta({ description: 'why it was lost' }),
      report: routeTrialReport.nullable().meta({ description: 'once it has ended' }),
    })
    .nullable()
    .meta({ description: 'null: none was begun' }),
});
export type RouteTrialView = z.infer<typeof routeTrialView>;

/** What people saw of routes that were run on the layout itself, by id of the route, and the one that is run now. */
export const layoutDriveRecord = z.strictObject({
  seen: z.record(
    z.string(),
    z.strictObject({
      right: z.boolean(),
      train: z.string().meta({ description: 'label' }),
      by: z.string(),
      at: z.iso.datetime(),
      layout: z
        .string()
        .optional()
        .meta({ description: 'digest of the layout that was driven; absent: not known' }),
    }),
  ),
  now: z
    .strictObject({
      route: z.string(),
      train: z.string().meta({ description: 'label' }),
      session: z.string(),
    })
    .nullable(),
});
export type LayoutDriveRecord = z.infer<typeof layoutDriveRecord>;
