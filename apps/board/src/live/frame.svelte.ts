import { fastNow } from '@blockbell/railway';
import type { Picture } from './picture.js';
import { physicalNow, staleSince } from './time-estimate.js';
import { Turns } from './turns.js';

/** Pause between pictures while nothing moves, or where the viewer asked for little motion, ms. */
const CALM_PAUSE = 250;
/** Between one time and the next that lines of the time–distance graph are drawn anew, ms: each draws all of the sheet. */
const LINES_PAUSE = 1000;

/**
 * The moment that is drawn: physical time, fast time, and whether the picture is stale. What changes on the page is brought on
 * in turns, so that no frame of the screen bears all of it.
 */
export class Frame {
  /** Physical ms. */
  now = $state(0);
  /** Fast-clock ms since midnight. */
  fast = $state(0);
  /** Wall-clock time of day since which the picture is stale, or null. */
  stale = $state<string | null>(null);

  /** How many pictures of trains were drawn. */
  pictures = $state(0);
  /** How often labels were moved along with the trains. */
  labels = $state(0);
  /** How often it was time to tell more in words. */
  words = $state(0);
  /** How often it was time to draw lines anew. */
  lines = $state(0);
  /**
   * Whether all is brought on at once: pictures come seldom, since nothing moves or little motion was asked for, or another moment was
   * gone to.
   */
  atOnce = false;
  #wordsWait = false;

  readonly #picture: Picture;

  constructor(picture: Picture) {
    this.#picture = picture;
  }

  /** Draws until the returned function is called. */
  run(): () => void {
    const still = window.matchMedia('(prefers-reduced-motion: reduce)');
    const turns = new Turns();
    let request = 0;
    let drawnAt = -Infinity;
    let linesAt = -Infinity;
    let tookIn = false;
    const tick = (wall: number): void => {
      request = requestAnimationFrame(tick);
      const isElsewhere = this.#picture.goneElsewhere?.() === true;
      // The track of a message is painted now; trains follow with the next frame, whatever came meanwhile.
      tookIn = !isElsewhere && !tookIn && this.#picture.takeIn?.() === true;
      if (tookIn) {
        drawnAt = -Infinity;
        return;
      }
      const isSeldom = still.matches || !this.#moving();
      this.atOnce = isElsewhere || isSeldom;
      if (!isElsewhere && isSeldom && wall - drawnAt < CALM_PAUSE) return;
      drawnAt = wall;
      const waits = { words: this.#wordsWait, lines: wall >= linesAt + LINES_PAUSE };
      const turn = this.atOnce ? 'all' : turns.next(waits);
      if (turn === 'all' || turn === 'trains') this.#draw();
      if (turn === 'all' || turn === 'labels') this.labels += 1;
      if (turn === 'all' || turn === 'words') this.#tell();
      if (turn === 'all' || turn === 'lines') {
        linesAt = wall;
        this.lines += 1;
      }
    };
    request = requestAnimationFrame(tick);
    return () => cancelAnimationFrame(request);
  }

  /** Something is to be told in words: whoever calls this within an effect is told when it is time for more. */
  waitForWords(): void {
    void this.words;
    this.#wordsWait = true;
  }

  #tell(): void {
    this.#wordsWait = false;
    this.words += 1;
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
