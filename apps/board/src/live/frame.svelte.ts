import { fastNow } from '@blockbell/railway';
import type { Picture } from './picture.js';
import { physicalNow, staleSince } from './time-estimate.js';
import { Turns } from './turns.js';
import type { Waiting } from './turns.js';

/** Pause between pictures while nothing moves, or where the viewer asked for little motion, ms. */
const CALM_PAUSE = 250;
/** Between one time and the next that lines of the time–distance graph are drawn anew, ms: those run, then those expected. */
const LINES_PAUSE = 500;
/** Between one time and the next that labels are moved along with slow trains, ms. */
const LABELS_PAUSE = 100;
/** Between one time and the next that clocks go on, ms. */
const CLOCK_PAUSE = 200;

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
  /** How often labels looked for places beside their trains, and how often they were put there. */
  labels = $state(0);
  places = $state(0);
  /** How often it was time to tell more in words. */
  words = $state(0);
  /** How often it was time to show what is less urgent. */
  asides = $state(0);
  /** How often it was time to draw anew what was run, and what is expected. */
  runLines = $state(0);
  expectedLines = $state(0);
  /**
   * Whether all is brought on at once: pictures come seldom, since nothing moves or little motion was asked for, or another moment was
   * gone to.
   */
  atOnce = false;
  #wordsWait = false;
  #labelsWait = false;
  #placesWait = false;
  #asidesWait = false;

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
    let clockAt = -Infinity;
    let labelsAt = -Infinity;
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
      const waits = new Set<Waiting>();
      if (this.#labelsWait || wall >= labelsAt + LABELS_PAUSE) waits.add('labels');
      if (this.#placesWait) waits.add('places');
      if (this.#wordsWait) waits.add('words');
      if (this.#asidesWait) waits.add('asides');
      if (wall >= clockAt + CLOCK_PAUSE) waits.add('clock');
      if (wall >= linesAt + LINES_PAUSE) waits.add('lines');
      const turn = this.atOnce ? 'all' : turns.next(waits);
      if (turn === 'all' || turn === 'trains') this.#draw();
      if (turn === 'all' || turn === 'labels') {
        labelsAt = wall;
        this.#labelsWait = false;
        this.labels += 1;
      }
      if (turn === 'all' || turn === 'places') {
        this.#placesWait = false;
        this.places += 1;
      }
      if (turn === 'all' || turn === 'words') this.#tell();
      if (turn === 'all' || turn === 'clock') {
        clockAt = wall;
        this.#goOn();
      }
      if (turn === 'all' || turn === 'lines') {
        linesAt = wall;
        this.#drawLines();
      }
      if (turn === 'all' || turn === 'asides') {
        this.#asidesWait = false;
        this.asides += 1;
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

  /** The same for what is less urgent. */
  waitForAsides(): void {
    void this.asides;
    this.#asidesWait = true;
  }

  /** Trains have moved so far that their labels are to follow without delay. */
  waitForLabels(): void {
    this.#labelsWait = true;
  }

  /** Labels have places that they are to be put at. */
  waitForPlaces(): void {
    this.#placesWait = true;
  }

  #tell(): void {
    this.#wordsWait = false;
    this.words += 1;
  }

  /** One kind with each turn, both where all is brought on at once. */
  #drawLines(): void {
    const isForRuns = this.runLines <= this.expectedLines;
    if (isForRuns || this.atOnce) this.runLines += 1;
    if (!isForRuns || this.atOnce) this.expectedLines += 1;
  }

  /** Clocks show the time of the trains. */
  #goOn(): void {
    const clock = this.#picture.rows.session?.clock;
    if (clock) this.fast = fastNow(clock, this.now);
  }

  #draw(): void {
    this.pictures += 1;
    const { anchor, lostAt, connected, resyncAskedAt } = this.#picture;
    const wall = performance.now();
    this.#picture.reach?.(physicalNow(anchor, wall, lostAt));
    this.now = physicalNow(this.#picture.anchor, wall, lostAt);
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
