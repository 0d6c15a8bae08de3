import type { RehearsalSetup } from '@blockbell/rehearsal';
import { GrantCosts } from './grant-costs.js';
import { recordSession } from './play.js';
import { numberText, type Benchmark, type Figure } from './report.js';
import { demoSubject, largeSubject, SECTIONS } from './subjects.js';
import { replayTimed } from './timed-engine.js';

const MINUTE = 60_000;
const TRAINS = [4, 8, 16, 30, 45, 60];
const SEEDS = [1, 2, 3];

export const dispatchingCost: Benchmark = {
  name: 'dispatching',
  measure({ quick, tell }) {
    tell('grants on the demo');
    const demo = new Costs();
    demo.add(demoSubject(), quick ? 10 * MINUTE : Infinity);
    const large = new Map<number, Costs>();
    for (const trains of TRAINS) {
      tell(`grants for ${trains} trains on ${numberText(SECTIONS)} sections`);
      const costs = new Costs();
      for (const seed of quick ? SEEDS.slice(0, 1) : SEEDS)
        costs.add(largeSubject(trains, seed), quick ? 2 * MINUTE : 10 * MINUTE);
      large.set(trains, costs);
    }
    const { mean, p99 } = demo.grants.elapsed.summary();
    return {
      name: 'dispatching',
      title: 'Cost of grants',
      about:
        'Milliseconds and node expansions of a grant: the whole engine step in which it is decided, and all steps in which its ' +
        `search was under way. The demo’s session, and generated railways of ${numberText(SECTIONS)} sections with two fifths of single line ` +
        'or more, 10 minutes each, on which all trains are behind their booked times and want to run; layout seeds 1 to 3. “Unsafe” and “for budget” are requests ' +
        'refused because not all trains could have finished, and because the search was given up. The longest step is that of ' +
        'any input but a command.',
      columns: [
        'railway',
        'grants',
        'mean ms',
        'p99 ms',
        'mean exp.',
        'p99 exp.',
        'unsafe',
        'for budget',
        'longest step ms',
      ],
      rows: [
        demo.row('demo, 16 trains'),
        ...[...large].map(([trains, costs]) => costs.row(`${trains} trains`)),
      ],
      figures: [
        { what: 'mean cost of a grant on the demo', value: mean, unit: 'ms', target: { most: 1 } },
        { what: 'p99 cost of a grant on the demo', value: p99, unit: 'ms', target: { most: 20 } },
        ...[...large].map(([trains, costs]) => costs.refusedFigure(trains)),
      ],
    };
  },
};

/** Costs over one or several sessions. */
class Costs {
  readonly grants = new GrantCosts();
  #granted = 0;
  #unsafe = 0;
  #forBudget = 0;

  add(subject: RehearsalSetup, until: number): void {
    const { world, inputs } = recordSession(subject, until);
    const { grants, refusedDoomed, refusedExhausted } = replayTimed(world, inputs, (step) =>
      this.grants.see(step),
    );
    this.#granted += grants;
    this.#unsafe += refusedDoomed;
    this.#forBudget += refusedExhausted;
  }

  row(label: string): string[] {
    const elapsed = this.grants.elapsed.summary();
    const expansions = this.grants.expansions.summary();
    const numbers = [
      this.#granted,
      elapsed.mean,
      elapsed.p99,
      expansions.mean,
      expansions.p99,
      this.#unsafe,
      this.#forBudget,
      this.grants.longestStep,
    ];
    return [label, ...numbers.map(numberText)];
  }

  refusedFigure(trains: number): Figure {
    const requests = this.#granted + this.#unsafe + this.#forBudget;
    return {
      what: `share of requests refused for lack of budget, ${trains} trains`,
      value: requests === 0 ? 0 : (this.#forBudget / requests) * 100,
      unit: '%',
      target: { most: 1 },
    };
  }
}
