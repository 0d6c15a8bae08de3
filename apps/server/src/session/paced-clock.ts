/** Milliseconds of a clock that never goes back. */
export type WallClock = () => number;

/**
 * Physical time of a session against the clock on the wall: runs `pace` times as fast. A change of pace bends the line but never
 * breaks it.
 */
export class PacedClock {
  private at: number;
  private since: number;
  private rate: number;

  /** Begins at `at` physical ms, now. */
  constructor(
    private readonly wall: WallClock,
    at: number,
    pace: number,
  ) {
    this.at = at;
    this.since = wall();
    this.rate = pace;
  }

  get pace(): number {
    return this.rate;
  }

  /** Whole physical ms. */
  now(): number {
    return Math.floor(this.exact());
  }

  setPace(pace: number): void {
    this.at = this.exact();
    this.since = this.wall();
    this.rate = pace;
  }

  /** Time goes on from `at`: what passed on the wall meanwhile is not made up for. */
  slipTo(at: number): void {
    this.at = at;
    this.since = this.wall();
  }

  /** Wall-clock ms until `at`, rounded up; 0 when it has come. */
  wallUntil(at: number): number {
    return Math.max(0, Math.ceil((at - this.exact()) / this.rate));
  }

  private exact(): number {
    return this.at + (this.wall() - this.since) * this.rate;
  }
}
