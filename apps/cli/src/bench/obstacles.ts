import type { EngineState, World } from '@blockbell/railway';
import type { SimulatedLayout } from '@blockbell/simulation';

/** How far ahead of a train something must appear to be no mistake about its head, mm. */
const AHEAD = 400;
/** How long it stays, physical ms. */
const STAYS = 300;

/** Makes things appear on the track ahead of moving trains, one train after another, as a dropped tool would. */
export class Obstacles {
  #turn = 0;

  constructor(
    readonly world: World,
    readonly state: EngineState,
    readonly simulated: SimulatedLayout,
  ) {}

  /** Puts something in a section that the next train that runs holds and has not come near; whether one was found. */
  drop(now: number): boolean {
    const { trains } = this.state;
    for (let tried = 0; tried < trains.length; tried++) {
      this.#turn = (this.#turn + 1) % trains.length;
      const section = this.#sectionAhead(this.#turn, now);
      if (section === null) continue;
      this.simulated.injectFault({ kind: 'stuck-detector', at: now, section, duration: STAYS });
      return true;
    }
    return false;
  }

  #sectionAhead(index: number, now: number): number | null {
    const { layout, stock } = this.world;
    const { activity, path, authorised, reckoning } = this.state.trains[index]!;
    if (activity.kind !== 'moving') return null;
    const { position, since } = reckoning.nominal;
    const head = position / 1000 + (stock.trains[index]!.topSpeed * (now - since)) / 1000;
    const free = new Set(
      path
        .filter(({ start }, item) => item <= authorised && start > head + AHEAD)
        .map(({ element }) => element),
    );
    const section = this.state.sections.findIndex(
      ({ claim, belief }, each) =>
        claim === index &&
        belief === 'clear' &&
        layout.sections[each]!.elements.every((element) => free.has(element)),
    );
    return section < 0 ? null : section;
  }
}
