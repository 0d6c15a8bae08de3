import { mayRun, type EngineState, type World } from '@blockbell/railway';
import { lookAt } from '../situation/look.js';
import type { Situation } from '../situation/situation.js';

/** How often a new plan is asked for when nothing happens, physical ms. */
const INTERVAL = 40_000;
/** And when something did: a closed block, a train stopped or let go, another ratio of the clock, a wish, other work for a train, a plan left. */
const LEAST_INTERVAL = 10_000;

/** Watches a session and says when a new plan is due. */
export class PlanningDesk {
  #asked = -Infinity;
  #facts = '';
  /** Whether a plan was followed at the last look. */
  #wasFollowed = false;

  /** @param from a session whose plan is known already, as it was made */
  constructor(from: EngineState | null = null) {
    const plan = from?.dispatching.plan ?? null;
    if (from === null || plan === null) return;
    this.#asked = plan.plan.made;
    this.#facts = factsOf(from);
    this.#wasFollowed = true;
  }

  /** The situation to plan from, if a plan is due at the physical time `now`; else null. */
  look(world: World, state: EngineState, now: number): Situation | null {
    if (!mayRun(state) || !state.session.clock.running) return null;
    const since = now - this.#asked;
    if (since < LEAST_INTERVAL) return null;
    const facts = factsOf(state);
    const isFollowed = state.dispatching.plan !== null;
    const isLeft = this.#wasFollowed && !isFollowed;
    this.#wasFollowed = isFollowed;
    if (since < INTERVAL && facts === this.#facts && !isLeft) return null;
    this.#asked = now;
    this.#facts = facts;
    return lookAt(world, state, now);
  }
}

/** What changes at a stroke, not in the course of time, and makes another plan needed; in one text, for it is asked for every second. */
function factsOf({ elements, trains, session, dispatching, added }: EngineState): string {
  let facts = `${session.clock.ratio} ${added.edition}`;
  for (const [element, { possession, proof }] of elements.entries())
    if (possession !== null || proof === 'failed') facts += ` ${element}`;
  for (const { activity, held, identity } of trains) {
    const { kind } = activity;
    facts += kind === 'halted' || kind === 'absent' ? `,${kind}` : ',';
    if (held) facts += ' held';
    if (identity.certainty === 'ambiguous') facts += ' ambiguous';
  }
  const { tracks, firsts, cancellations } = dispatching.wishes;
  const order = firsts.map(({ first, second }) => [first, second]);
  return facts + JSON.stringify([tracks, order, cancellations]);
}
