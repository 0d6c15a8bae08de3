import { fastNow } from '@blockbell/railway';
import type { Picture } from './picture.js';
import { physicalNow, staleSince } from './time-estimate.js';

/** Pause between pictures while nothing moves, or where the viewer asked for little motion, ms. */
const CALM_PAUSE = 250;

/** The moment that is drawn: physical time, fast time, and whether the picture is stale. */
export class Frame {
  /** Physical ms. */
  now = $state(0);
  /** Fast-clock ms since midnight. */
  fast = $state(0);
  /** Wall-clock time of day since which the picture is stale, or null. */
  stale = $state<string | null>(null);

  /** How many pictures were drawn. */
  pictures = $state(0);
  /** Whether pictures come seldom, since nothing moves or little motion was asked for. */
  seldom = false;

  readonly #picture: Picture;

  constructor(picture: Picture) {
    this.#picture = picture;
  }

  /** Draws until the returned function is called. */
  run(): () => void {
    const still = window.matchMedia('(prefers-reduced-motion: reduce)');
    let request = 0;
    let drawnAt = -Infinity;
    const tick = (wall: number): void => {
      request = requestAnimationFrame(tick);
      this.seldom = still.matches || !this.#moving();
      if (this.seldom && wall - drawnAt < CALM_PAUSE) return;
      drawnAt = wall;
      this.#draw();
    };
    request = requestAnimationFrame(tick);
    return () => cancelAnimationFrame(request);
  }

  #draw(): void {
    this.pictures += 1;
    const { anchor, lostAt, connected, resyncAskedAt, rows } = this.#picture;
    const wall = performance.now();
    this.#picture.reach?.(physicalNow(anchor, wall, lostAt));
    this.now = physicalNow(this.#picture.anchor, wall, lostAt);
    const clock = rows.session?.clock;
    if (clock) this.fast = fastNow(clock, this.now);
    const since = staleSince({ connected, lostAt, resyncAskedAt }, wall);
    this.stale = since === null ? null : timeOfDay(Date.now() - (wall - since));
  }

  #moving(): boolean {
    for (const { motion } of this.#picture.rows.trains.values())
      if (motion.speed !== 0 || motion.target !== 0) return true;
    return false;
  }
}

const timeOfDay = (at: number): string => new Date(at).toLocaleTimeString('en-GB');
