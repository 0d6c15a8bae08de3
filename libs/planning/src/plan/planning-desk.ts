import { mayRun, type EngineState, type World } from '@blockbell/railway';
import { lookAt } from '../situation/look.js';
import { keptSince } from '../situation/may-leave.js';
import type { Situation } from '../situation/situation.js';

/** How often a new plan is asked for when nothing happens, physical ms. */
const INTERVAL = 40_000;
/** And when something did: a closed block, a train stopped, long held or let go after that, another ratio of the clock, a wish, other work for a train, a plan left. */
const LEAST_INTERVAL = 10_000;
/** How long a train is held, though its time to leave has come, before that is something that happened, physical ms: short stays are made good by the plan there is. */
const HELD_LASTS = 15_000;

/** Watches a session and says when a new plan is due. */
export class PlanningDesk {
  #asked = -Infinity;
  /** Null: not looked at yet. */
  #facts: string | null = null;
  /** Whether a plan was followed at the last look. */
  #wasFollowed = false;

  /** @param from a session whose plan is known already, as it was made */
  constructor(from: EngineState | null = null) {
    const plan = from?.dispatching.plan ?? null;
    if (from === null || plan === null) return;
    this.#asked = plan.plan.made;
    this.#wasFollowed = true;
  }

  /** The situation to plan from, if a plan is due at the physical time `now`; else null. */
  look(world: World, state: EngineState, now: number): Situation | null {
    if (!mayRun(state) || !state.session.clock.running) return null;
    const since = now - this.#asked;
    if (since < LEAST_INTERVAL && this.#facts !== null) return null;
    const facts = factsOf(world, state, now);
    this.#facts ??= facts;
    const isFollowed = state.dispatching.plan !== null;
    const isLeft = this.#wasFollowed && !isFollowed;
    this.#wasFollowed = isFollowed;
    const isDue = facts !== this.#facts || isLeft ? since >= LEAST_INTERVAL : since >= INTERVAL;
    if (!isDue) return null;
    this.#asked = now;
    this.#facts = facts;
    return lookAt(world, state, now);
  }
}

/** What changes at a stroke, not in the course of time, and makes another plan needed; in one text, for it is asked for every second. */
function factsOf(world: World, state: EngineState, now: number): string {
  const { elements, trains, session, dispatching, added } = state;
  let facts = `${session.clock.ratio} ${added.edition}`;
  for (const [element, { possession, proof }] of elements.entries())
    if (possession !== null || proof === 'failed') facts += ` ${element}`;
  trains.forEach((train, index) => {
    const { activity, held, identity } = train;
    const { kind } = activity;
    facts += kind === 'halted' || kind === 'absent' ? `,${kind}` : ',';
    const since = held ? keptSince(world, train, index, session.clock, now) : null;
    if (since !== null && now - since >= HELD_LASTS) facts += ' held';
    if (identity.certainty === 'ambiguous') facts += ' ambiguous';
  });
  const { tracks, firsts, cancellations } = dispatching.wishes;
  const order = firsts.map(({ first, second }) => [first, second]);
  return facts + JSON.stringify([tracks, order, cancellations]);
}
