import type { DisturbancesFile } from '@blockbell/contract';
import { USUAL_CHOICES, type PlanningChoices } from '@blockbell/planning';
import {
  contentHash,
  storedPlaces,
  type Layout,
  type LayoutFile,
  type Precedence,
  type StagingRulesFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import {
  InvariantChecker,
  longestSession,
  passSeconds,
  Rehearsal,
  SessionEnd,
} from '@blockbell/rehearsal';
import { drawDisturbances } from '../disturbances/draw.js';
import { Failures } from '../disturbances/failures.js';
import { LateDepartures } from '../disturbances/late-departures.js';
import {
  arrivalsOf,
  connectionsOf,
  delaysOf,
  elsewhereOf,
  openServicesRun,
  servicesNotRun,
} from './outcome.js';
import type { SessionResult } from './session-result.js';
import { YardFilling } from './yard-filling.js';

/** What is rehearsed: the three files, what goes wrong, and how it is dispatched. */
export interface RehearsalPlan {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly disturbances: DisturbancesFile;
  /** With plans made ahead and followed, or with whom to ask first and no plan. */
  readonly dispatching: Dispatching;
  /** By which the staging yards are worked; sound for the layout and the stock. As the timetable has it if left out. */
  readonly rules?: StagingRulesFile;
  /** Whether the trains return to where they began once all work is done. */
  readonly returns?: boolean;
}

/** Whether two plans of the same railway rehearse the same, so that there is nothing to compare. */
export const isSameWay = (one: RehearsalPlan, other: RehearsalPlan): boolean =>
  one.dispatching === other.dispatching &&
  contentHash(one.timetable) === contentHash(other.timetable) &&
  contentHash(one.rules ?? null) === contentHash(other.rules ?? null);

export type Dispatching = 'plan' | Precedence;

/** Who gives the commands of a rehearsal. */
const NAME = 'scripted dispatcher';

/**
 * Rehearses one session with the disturbances of a seed, invariants checked after every step: the same plan and seed, the same
 * result. `compiled`: the layout compiled already, for whoever runs many.
 */
export function rehearseOnce(
  { layout, stock, timetable, disturbances, dispatching, rules, returns }: RehearsalPlan,
  seed: number,
  compiled?: Layout,
  choices: PlanningChoices = USUAL_CHOICES,
): SessionResult {
  const rehearsal = new Rehearsal({
    layout,
    stock,
    timetable,
    seed,
    ...(compiled === undefined ? {} : { compiledLayout: compiled }),
    ...(dispatching === 'plan' ? { planning: choices } : { precedence: dispatching }),
  });
  const { world } = rehearsal;
  const drawn = drawDisturbances(world, disturbances, seed);
  for (const fault of drawn.faults) rehearsal.simulated.injectFault(fault);
  const checker = new InvariantChecker(rehearsal);
  const end = new SessionEnd(rehearsal, returns === true);
  const crews = new LateDepartures(rehearsal, drawn.lateDepartures);
  new Failures(rehearsal, drawn.trainFailures, disturbances.lostContacts, seed).watch();
  const yards = new YardFilling(world);
  const alarms = countAlarms(rehearsal);
  if (rules !== undefined) {
    const refused = rehearsal.command(NAME, { kind: 'follow-staging-rules', rules });
    if (refused !== null) throw new Error(`The staging rules were not checked: ${refused}`);
  }
  for (const _ of passSeconds(rehearsal, longestSession(world.timetable))) {
    crews.look();
    yards.look(rehearsal.state, rehearsal.now);
    end.look();
  }
  const { state } = rehearsal;
  return {
    seed,
    ended: state.session.phase.kind === 'ended',
    duration: rehearsal.now,
    steps: state.revision,
    notRun: servicesNotRun(world, state),
    open: openServicesRun(world, state),
    late: arrivalsOf(world, state),
    connections: connectionsOf(world, state),
    ...delaysOf(world, state),
    yards: yards.samples,
    alarms,
    elsewhere: elsewhereOf(timetable, storedPlaces(rehearsal), world),
    violations: checker.broken.length,
    digest: contentHash(state),
  };
}

/** Alarms by the first word of their key, counted as they are raised. */
function countAlarms(rehearsal: Rehearsal): Record<string, number> {
  const counts: Record<string, number> = {};
  rehearsal.observe(({ state }, _, { effects }) => {
    for (const effect of effects) {
      if (effect.kind !== 'alarm' || !effect.raised) continue;
      const kind = state.alarms.find(({ id }) => id === effect.alarm)!.key.split(':')[0]!;
      counts[kind] = (counts[kind] ?? 0) + 1;
    }
  });
  return counts;
}
