import { piecesOf } from '../interlocking/held-path.js';
import { positionAt, timeToTravel } from '../movement/motion.js';
import { instant, um } from '../units.js';
import type { SessionDriver } from './session-driver.js';

/**
 * Moves the trains of a session exactly as the engine reckons them, and reports every section they come to and leave. It is
 * no railway of its own, only the engine's belief held up to it: enough to see who goes and who waits.
 */
export class MirrorTraffic {
  readonly #driver: SessionDriver;

  constructor(driver: SessionDriver) {
    this.#driver = driver;
  }

  /** Lets time pass up to `until` ms; `seen` is called after every event. */
  runTo(until: number, seen: () => void = () => {}): void {
    const driver = this.#driver;
    for (;;) {
      const crossing = this.#nextCrossing();
      const next = Math.min(crossing ?? Infinity, driver.nextAt() ?? Infinity);
      if (next > until) break;
      driver.runTo(Math.max(next, driver.now));
      this.#report();
      seen();
    }
    driver.runTo(until);
  }

  /** When the head or the tail of a train next comes to a boundary, ms; null: never. */
  #nextCrossing(): number | null {
    const { state, world, now } = this.#driver;
    let next: number | null = null;
    state.trains.forEach(({ path, reckoning: { nominal } }, index) => {
      const performance = world.models[index]!.nominal;
      const head = positionAt(nominal, performance, instant(now));
      const length = world.stock.trains[index]!.length * 1000;
      for (const { start, end } of piecesOf(world.layout, path)) {
        for (const place of [start * 1000 + 1, end * 1000 + length]) {
          if (place <= head) continue;
          const time = timeToTravel(nominal, performance, um(place - nominal.position));
          if (time !== null) next = Math.min(next ?? Infinity, Math.max(now, nominal.since + time));
        }
      }
    });
    return next;
  }

  /** Detectors say what has changed: first what is occupied, then what is free. */
  #report(): void {
    const driver = this.#driver;
    const covered = this.#covered();
    driver.world.layout.sections.forEach(({ id, index }) => {
      if (covered.has(index) && driver.state.sections[index]!.raw !== true) driver.occupied(id);
    });
    driver.world.layout.sections.forEach(({ id, index }) => {
      if (!covered.has(index) && driver.state.sections[index]!.raw === true) driver.free(id);
    });
  }

  /** Sections under trains. */
  #covered(): Set<number> {
    const { state, world, now } = this.#driver;
    const covered = new Set<number>();
    state.trains.forEach(({ path, reckoning }, index) => {
      const head = positionAt(reckoning.nominal, world.models[index]!.nominal, instant(now));
      const tail = head - world.stock.trains[index]!.length * 1000;
      for (const { section, start, end } of piecesOf(world.layout, path)) {
        if (section >= 0 && start * 1000 < head && end * 1000 > tail) covered.add(section);
      }
    });
    return covered;
  }
}
