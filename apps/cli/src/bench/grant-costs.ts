import { Latencies } from './latencies.js';
import type { TimedStep } from './timed-engine.js';

interface Cost {
  readonly elapsed: number;
  readonly expansions: number;
}

const NOTHING: Cost = { elapsed: 0, expansions: 0 };

/**
 * What grants cost: the whole step in which one is decided, and the steps before it in which its search was under way. Several
 * grants of one step share it equally.
 */
export class GrantCosts {
  readonly elapsed = new Latencies();
  readonly expansions = new Latencies();
  mostSearch = 0;
  longestStep = 0;
  #open: Cost = NOTHING;

  see({ input, result, state, grants, elapsed }: TimedStep): void {
    const { expansions } = result;
    const searching = state.dispatching.searchFor !== null;
    this.mostSearch = Math.max(this.mostSearch, expansions);
    if (input.kind !== 'command') this.longestStep = Math.max(this.longestStep, elapsed);
    const before = searching ? NOTHING : this.#open;
    for (let grant = 0; grant < grants; grant++) {
      this.elapsed.add((before.elapsed + elapsed) / grants);
      this.expansions.add((before.expansions + expansions) / grants);
    }
    this.#open = searching
      ? { elapsed: this.#open.elapsed + elapsed, expansions: this.#open.expansions + expansions }
      : NOTHING;
  }
}
