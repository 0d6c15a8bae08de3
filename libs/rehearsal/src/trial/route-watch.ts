import type { Aspect, Layout, Route, StepResult } from '@blockbell/railway';
import type { Rehearsal } from '../rehearsal.js';
import type { RouteTrial, TriedDrive } from './trial.js';

/** How much of a way an aspect promises. */
const RANK: Readonly<Record<Aspect, number>> = {
  stop: 0,
  'call-on': 1,
  caution: 2,
  proceed: 3,
};

/** Notes what the layout says while one route is tried. */
export class RouteWatch {
  readonly #layout: Layout;
  readonly #since: number;
  readonly #drives = new Map<
    number,
    { position: string; proven: number | null; lay: string | null }
  >();
  readonly #occupied = new Set<number>();
  #aspect: Aspect | null;

  constructor(
    private readonly rehearsal: Rehearsal,
    private readonly route: Route,
  ) {
    const { state, world } = rehearsal;
    this.#layout = world.layout;
    this.#since = rehearsal.now;
    this.#aspect = state.signals[route.from] ?? null;
    for (const { section } of route.steps.flatMap(({ pieces }) => pieces)) {
      if (section >= 0 && state.sections[section]!.raw === true) this.#occupied.add(section);
    }
    for (const { element, position } of drivesOf(world.layout, route)) {
      const lay = state.elements[element]!.position;
      this.#drives.set(element, { position, proven: null, lay });
    }
  }

  /** To be called after every step of the engine. */
  see({ changes }: StepResult): void {
    const { state } = this.rehearsal;
    for (const section of changes.sections) {
      if (state.sections[section]!.raw === true) this.#occupied.add(section);
    }
    for (const [element, drive] of this.#drives) {
      const { proof, position } = state.elements[element]!;
      const lies = position === drive.position && (proof === 'proven' || proof === 'presumed');
      if (lies) drive.proven ??= this.rehearsal.now - this.#since;
    }
    const shown = state.signals[this.route.from] ?? null;
    if (shown !== null && (this.#aspect === null || RANK[shown] > RANK[this.#aspect])) {
      this.#aspect = shown;
    }
  }

  /**
   * Sections under the way that never said they were occupied though the train passed them or stands on them; `head`: how
   * far its foremost axle that is seen has come into the last block, mm.
   */
  unseen(head: number): string[] {
    const last = this.route.steps.at(-1)!.pieces;
    let end = 0;
    const reached = last.filter(({ section, length }) => {
      end += length;
      return end <= head || this.#isOccupied(section);
    });
    const passed = this.route.steps.slice(0, -1).flatMap(({ pieces }) => pieces);
    const sections = new Set([...passed, ...reached].map(({ section }) => section));
    return [...sections]
      .filter((section) => section >= 0 && !this.#occupied.has(section))
      .map((section) => this.#layout.sections[section]!.id);
  }

  #isOccupied(section: number): boolean {
    return section >= 0 && this.rehearsal.simulated.truth.section(section).occupied;
  }

  found(): Pick<RouteTrial, 'aspect' | 'drives' | 'sections'> {
    return {
      aspect: this.#aspect,
      drives: [...this.#drives].map(([element, { position, proven, lay }]): TriedDrive => ({
        id: this.#layout.elements[element]!.id,
        position,
        proven,
        thrown: lay !== position,
      })),
      sections: [...this.#occupied].map((section) => this.#layout.sections[section]!.id),
    };
  }
}

/** What a route needs set: its own turnouts and the polarities of the gaps it crosses. */
export function drivesOf(
  layout: Layout,
  { steps }: Route,
): readonly { readonly element: number; readonly position: string }[] {
  return steps.flatMap(({ element, leg, gaps }) => [
    ...gaps.map(({ element: zone, polarity }) => ({ element: zone, position: polarity })),
    ...(leg.position === null || layout.elements[element]!.drive === null
      ? []
      : [{ element, position: leg.position }]),
  ]);
}
