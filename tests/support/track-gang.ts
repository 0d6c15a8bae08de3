import { isForWork } from '@blockbell/railway';
import type { Rehearsal } from '@blockbell/rehearsal';
import type { Chance } from './chance.js';

/** Longest and shortest time for which track is closed, physical ms. */
const SHORTEST = 40_000;
const LONGEST = 200_000;
/** How far from a turnout every train must be for somebody to throw it under a way that is set, mm. */
const WELL_AWAY = 900;
/** How long it lies wrong, physical ms. */
const LIES_WRONG = 15_000;

/**
 * People who work on the track: they have blocks and turnouts closed, throw closed turnouts to and fro, now and then
 * throw one under a way that is set, and have everything reopened. They see trains: none may ever be where they work.
 */
export class TrackGang {
  /** What never may be: a train where work is done. */
  readonly run: string[] = [];
  closings = 0;
  worked = 0;
  thrownUnderWays = 0;
  readonly #rehearsal: Rehearsal;
  readonly #chance: Chance;
  /** By closed element: until when. */
  readonly #closed = new Map<number, number>();
  /** By turnout thrown under a way: where it belongs, and from when it may be set right. */
  readonly #wrong = new Map<number, { position: string; at: number }>();

  constructor(rehearsal: Rehearsal, chance: Chance) {
    this.#rehearsal = rehearsal;
    this.#chance = chance;
    rehearsal.observe((_, __, { changes }) => {
      for (const element of changes.elements) this.#lookOut(element);
    });
  }

  /** Does whatever comes to mind; `stop`: only reopens and sets right what is left. */
  look(stop = false): void {
    const { now, state, world } = this.#rehearsal;
    for (const element of this.#closed.keys()) this.#lookOut(element);
    for (const [element, until] of this.#closed) {
      const drive = world.layout.elements[element]!.drive;
      if (isForWork(state, element)) {
        this.worked++;
        if (drive !== null) this.#throw(element, this.#chance.pick(drive.positions));
      }
      if (now < until && !stop) continue;
      this.#rehearsal.command('gang', { kind: 'reopen-track', element });
      this.#closed.delete(element);
    }
    for (const [element, { position, at }] of this.#wrong) {
      if (now < at && !stop) continue;
      this.#throw(element, position);
      this.#wrong.delete(element);
    }
    if (stop || this.#chance.below(8) > 0) return;
    if (this.#chance.below(2) === 0) this.#throwUnderWay();
    else if (this.#closed.size < 2) this.#close();
  }

  #close(): void {
    const { now, world } = this.#rehearsal;
    const track = world.layout.elements.filter(
      ({ kind }) => kind !== 'buffer-stop' && kind !== 'polarity',
    );
    const element = this.#chance.pick(track).index;
    const refused = this.#rehearsal.command('gang', {
      kind: 'close-track',
      element,
      reason: 'track work',
    });
    if (refused !== null) return;
    this.closings++;
    this.#closed.set(element, now + this.#chance.between(SHORTEST, LONGEST));
  }

  /** Somebody throws a turnout over which a way is set, with its train still well away from it. */
  #throwUnderWay(): void {
    const { now, state, world } = this.#rehearsal;
    const found = world.layout.elements.flatMap(({ drive, index, kind }) => {
      if (drive === null || !drive.feedback || kind === 'polarity') return [];
      const { holder, proof, position, possession } = state.elements[index]!;
      if (holder < 0 || proof !== 'proven' || possession !== null) return [];
      const { path, edge } = state.trains[holder]!;
      const item = path.find(({ element }) => element === index);
      const other = drive.positions.find((each) => each !== position);
      if (item === undefined || item.start - edge < WELL_AWAY) return [];
      return position === null || other === undefined ? [] : [{ index, position, other }];
    });
    if (found.length === 0) return;
    const { index, position, other } = this.#chance.pick(found);
    this.thrownUnderWays++;
    this.#throw(index, other);
    this.#wrong.set(index, { position, at: now + LIES_WRONG });
  }

  #throw(element: number, position: string): void {
    const { now, simulated } = this.#rehearsal;
    simulated.command(now, { kind: 'set-drive', element, position });
  }

  #lookOut(element: number): void {
    const { state, simulated, world, now } = this.#rehearsal;
    if (!isForWork(state, element)) return;
    for (const { train, stretches, speed } of simulated.truth.trains()) {
      if (speed === 0) continue;
      if (!stretches.some((s) => s.element === element && s.to - s.from > 1)) continue;
      const { label } = world.stock.trains[train]!.file;
      this.run.push(`${label} ran over ${world.layout.elements[element]!.id} at ${now} ms`);
    }
  }
}
