import { blockOf, slotText, type Route } from '@blockbell/railway';
import { headOnPath } from '../invariants/head-on-path.js';
import { RouteWatch } from './route-watch.js';
import type { TrialRailway } from './trial-railway.js';
import type { RouteTrial, TrialFault } from './trial.js';

/** How often it is looked whether the train has come there, physical ms. */
const LOOK = 250;
/** How long a standing train may take to free what it has left, physical ms. */
const FREEING = 10_000;
/** What a route may take beyond running over it at restricted speed, physical ms: turnouts, starting, proof of standing. */
const PATIENCE = 60_000;
const NAME = 'route trial';

export type TriedRoute = Omit<RouteTrial, 'route' | 'name' | 'from' | 'to' | 'train'>;

/** How it went: a fault, or what is worth knowing. */
type Course = { readonly fault: TrialFault } | { readonly notes: readonly string[] };

/**
 * Tries a route with the only train of the railway, which stands at its beginning: asks for it, and waits until the train
 * stands at its end and what it has left is free, or until something goes wrong.
 */
export function tryRoute(railway: TrialRailway, route: Route): TriedRoute {
  const { rehearsal } = railway;
  const began = rehearsal.now;
  const watch = new RouteWatch(rehearsal, route);
  const unwatch = rehearsal.observe((_, __, result) => watch.see(result));
  const course = runOver(railway, route, watch);
  unwatch();
  const found = watch.found();
  if ('fault' in course) {
    return { outcome: 'failed', ...course, notes: [], took: null, short: null, ...found };
  }
  const took = rehearsal.now - began;
  const short = Math.round(rehearsal.state.trains[0]!.mark - trueHead(railway)!);
  return { outcome: 'passed', fault: null, ...course, took, short, ...found };
}

function runOver(railway: TrialRailway, route: Route, watch: RouteWatch): Course {
  const { rehearsal } = railway;
  const { world } = rehearsal;
  const firstAlarm = rehearsal.state.nextAlarm;
  const length = route.length + world.stock.trains[0]!.length;
  const allowed = PATIENCE + Math.round((length * 1000) / world.restrictedSpeed);
  const until = rehearsal.now + allowed;

  const block = blockOf(route.to);
  const command = { kind: 'set-route', train: 0, block, route: route.index } as const;
  const refused = rehearsal.command(NAME, command);
  if (refused !== null) return failed(refused);
  for (let stoodAt: number | null = null; ;) {
    rehearsal.runTo(rehearsal.now + LOOK);
    const fault = faultSeen(railway, firstAlarm);
    if (fault !== null) return { fault };
    if (standsIn(railway, block)) {
      stoodAt ??= rehearsal.now;
      if (heldBehind(railway).length === 0 || rehearsal.now - stoodAt >= FREEING) break;
    } else if (rehearsal.now >= until) {
      return failed(`After ${Math.round(allowed / 1000)} s the train is still under way.`);
    }
  }
  return arrived(railway, watch);
}

/** What there is to say of a train that stands at the end of its route. */
function arrived(railway: TrialRailway, watch: RouteWatch): Course {
  const { state, world } = railway.rehearsal;
  const { unseenFront } = world.stock.trains[0]!;
  const head = trueHead(railway);
  if (head === null) return failed('The train stands elsewhere than it is believed to stand.');
  const unseen = watch.unseen(head - state.trains[0]!.path.at(-1)!.start - unseenFront);
  if (unseen.length > 0) {
    return failed(
      `The train passed, and ${unseen.join(', ')} never said that it was occupied.`,
      'Look at the detector, its wiring and its number in the layout file.',
    );
  }
  const held = heldBehind(railway);
  const names = held.map(({ element }) => slotText(world.layout, element)).join(', ');
  if (held.some(({ releaseAt }) => releaseAt <= state.trains[0]!.tail)) {
    return failed(`The train has certainly left ${names}, and it is still held.`);
  }
  return {
    notes:
      held.length === 0
        ? []
        : [
            `The detectors do not tell that its rear is clear of ${names}: locked until it goes on.`,
          ],
  };
}

/** What tells of itself: something that broke safety, an alarm, a train stopped. */
function faultSeen({ rehearsal, checker }: TrialRailway, firstAlarm: number): TrialFault | null {
  const [broken] = checker.broken;
  if (broken !== undefined) return { text: broken.text, mend: null };
  const { alarms, trains, session } = rehearsal.state;
  const alarm = alarms.find(({ id }) => id >= firstAlarm);
  if (alarm !== undefined) return { text: alarm.text, mend: alarm.mend };
  const { activity } = trains[0]!;
  if (activity.kind === 'halted') return { text: `It was stopped: ${activity.why}.`, mend: null };
  if (session.phase.kind === 'running') return null;
  const why = 'why' in session.phase ? session.phase.why : session.phase.kind;
  return { text: `The session stopped: ${why}.`, mend: null };
}

function standsIn({ rehearsal }: TrialRailway, block: number): boolean {
  const { activity, path } = rehearsal.state.trains[0]!;
  return activity.kind === 'standing' && path.at(-1)?.element === block;
}

/** What is held for the train behind the block that it stands in. */
const heldBehind = ({ rehearsal }: TrialRailway) => rehearsal.state.trains[0]!.path.slice(0, -1);

/** Where the train's head really is, mm along its way; null: elsewhere. */
function trueHead({ rehearsal }: TrialRailway): number | null {
  const { world, state, simulated } = rehearsal;
  const truth = simulated.truth.train(0);
  return truth === null ? null : headOnPath(world.layout, state.trains[0]!, truth);
}

const failed = (text: string, mend: string | null = null): Course => ({ fault: { text, mend } });
