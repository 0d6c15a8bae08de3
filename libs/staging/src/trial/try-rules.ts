import {
  decideTrack,
  holdsOfTrain,
  inOrderOfLeaving,
  sceneTracks,
  type Berth,
  type ComingTrain,
  type RuleRef,
  type StandingTrain,
  type TrackDecision,
  type TrackEnd,
  type World,
  type YardRulesFile,
  type YardScene,
} from '@blockbell/railway';
import { CLEARING, type BookedStay, type BookedYard } from '../booked/booked-yard.js';
import { mayGoTo } from './may-go-to.js';
import { placesAhead, trainsBookedAt } from './places-ahead.js';
import { TrialTrack } from './trial-tracks.js';
import type { Trial, TriedStay } from './trial.js';

const MINUTE = 60_000;

/** A stay as the trial goes on. */
interface Kept {
  readonly stay: number;
  readonly booked: BookedStay;
  readonly depart: number;
  placed: number | null;
  berth: number | null;
  rule: RuleRef | null;
  sent: TriedStay['sent'];
  waitsSince: number | null;
  waited: number;
  asked: boolean;
  left: number | null;
  readonly buriedBy: Set<number>;
}

/**
 * Tries the rules of a yard on a timetable: trains come when booked, unless they have not left yet; they leave when they are
 * due and nobody stands in their way, one by each end in the time that clearing it takes. Deterministic.
 */
export function tryRules(world: World, yard: BookedYard, rules: YardRulesFile): Trial {
  return new RulesTrial(world, yard, rules).run();
}

class RulesTrial {
  readonly #kept: readonly Kept[];
  readonly #tracks: readonly TrialTrack[];
  readonly #most: number[];
  readonly #freeAt: Record<TrackEnd, number> = { a: -Infinity, b: -Infinity };
  readonly #clearing: number;
  readonly #ahead: readonly (number | null)[];
  #visits = 0;
  #now: number;

  constructor(
    private readonly world: World,
    yard: BookedYard,
    private readonly rules: YardRulesFile,
  ) {
    const { layout, timetable } = world;
    this.#now = timetable.start;
    this.#clearing = CLEARING * timetable.ratio;
    this.#ahead = placesAhead(world, yard);
    this.#most = yard.tracks.map(() => 0);
    this.#tracks = sceneTracks(layout, yard.station, {
      occupant: () => null,
      lastUsed: () => 0,
    }).map((track) => new TrialTrack(track));
    this.#kept = yard.stays.map((booked, stay) => ({
      stay,
      booked,
      depart: booked.booked.depart ?? Infinity,
      placed: null,
      berth: null,
      rule: null,
      sent: null,
      waitsSince: null,
      waited: 0,
      asked: false,
      left: null,
      buriedBy: new Set(),
    }));
  }

  run(): Trial {
    for (const kept of this.#kept) if (kept.booked.arrive === -Infinity) this.#putFirst(kept);
    for (let next: number | null = this.#now; next !== null; next = this.#nextMoment()) {
      this.#now = next;
      while (this.#letOneOut() || this.#letOneIn());
    }
    return {
      stays: this.#kept.map(
        ({
          stay,
          placed,
          berth,
          rule,
          sent,
          waited,
          waitsSince,
          asked,
          left,
          buriedBy,
        }): TriedStay => ({
          stay,
          placed,
          berth,
          rule,
          sent,
          waited: waitsSince === null ? waited : this.world.timetable.end - waitsSince,
          asked,
          left,
          buriedBy: [...buriedBy],
        }),
      ),
      most: this.#most,
    };
  }

  /** A train that stands in the yard from the start has one place. */
  #putFirst(kept: Kept): void {
    const [berth] = kept.booked.berths;
    if (berth !== undefined) this.#put(kept, 0, berth, null);
  }

  #put(kept: Kept, index: number, berth: Berth, rule: RuleRef | null): void {
    const track = this.#tracks[berth.track]!;
    if (rule !== null) this.#visits++;
    track.put(this.#standing(kept, berth), berth, this.rules.moveUp, this.#visits);
    const there = new Set(track.scene.slots.flatMap((it) => (it === null ? [] : [it.train])));
    this.#most[berth.track] = Math.max(this.#most[berth.track]!, there.size);
    Object.assign(kept, { berth: index, placed: this.#now, rule });
  }

  #standing({ booked, depart }: Kept, { out }: Berth): StandingTrain {
    const { file } = this.world.stock.trains[booked.train]!;
    return { train: booked.train, class: file.class, depart, out };
  }

  /** Lets the first of those that are due out, if one can go. */
  #letOneOut(): boolean {
    const due = this.#kept.filter(
      (kept) => kept.berth !== null && kept.left === null && kept.depart <= this.#now,
    );
    const byTrain = new Map(due.map((kept) => [kept.booked.train, kept]));
    const ordered = inOrderOfLeaving(
      this.rules.departures.order,
      due.map(({ booked, depart, placed }) => {
        const { file } = this.world.stock.trains[booked.train]!;
        return {
          train: booked.train,
          class: file.class,
          priority: file.priority,
          depart,
          since: placed!,
          departures: this.#departures(booked.train),
        };
      }),
    );
    return ordered.some(({ train }) => this.#leaves(byTrain.get(train)!));
  }

  #leaves(kept: Kept): boolean {
    const berth = kept.booked.berths[kept.berth!]!;
    const track = this.#tracks[berth.track]!;
    const before = track.inFrontOf(this.#standing(kept, berth));
    for (const train of before) {
      const other = this.#kept.find(
        (it) => it.booked.train === train && it.berth !== null && it.left === null,
      );
      if (other !== undefined) kept.buriedBy.add(other.stay);
    }
    if (before.length > 0 || this.#freeAt[berth.out] > this.#now) return false;
    if (this.#askedFor(kept) > this.#now) return false;
    track.takeOut(kept.booked.train, this.rules.moveUp);
    kept.left = this.#now;
    this.#freeAt[berth.out] = this.#now + this.#clearing;
    return true;
  }

  /** From when on the place where it goes wants it, as far as that can be told now; Infinity: not before something changes. */
  #askedFor(kept: Kept): number {
    const place = this.#ahead[kept.stay]!;
    const request = this.rules.departures.requests.find(
      ({ when }) => when === undefined || holdsOfTrain(when, this.#coming(kept), this.#now),
    );
    if (request === undefined || place === null) return this.#now;
    if (trainsBookedAt(this.world, place, this.#now, kept.booked.train) < request.fewerThan)
      return this.#now;
    return kept.depart + request.minutes * MINUTE;
  }

  /** Lets the first of those that wait outside in, if the rules find a track for one. */
  #letOneIn(): boolean {
    const outside = this.#kept
      .filter((kept) => this.#isOutside(kept))
      .sort((a, b) => a.booked.arrive - b.booked.arrive || a.stay - b.stay);
    return outside.some((kept) => this.#enters(kept));
  }

  #isOutside({ booked, berth, sent, stay }: Kept): boolean {
    if (berth !== null || sent !== null || booked.arrive > this.#now) return false;
    const before = this.#kept.findLast((it) => it.booked.train === booked.train && it.stay < stay);
    return before === undefined || before.left !== null;
  }

  #enters(kept: Kept): boolean {
    const coming = this.#coming(kept);
    const waited = kept.waitsSince === null ? null : this.#now - kept.waitsSince;
    const scene = { fast: this.#now, tracks: this.#tracks.map((track) => track.scene) };
    const decision = this.#decide(kept, scene, coming, waited);
    if (decision.kind === 'overflow') {
      // From there it leaves when booked, and comes here again as if it had left from here.
      const { to, rule } = decision;
      const left = kept.depart === Infinity ? null : Math.max(this.#now, kept.depart);
      Object.assign(kept, {
        sent: { to, at: this.#now },
        rule,
        left,
        waited: waited ?? 0,
        waitsSince: null,
      });
      return true;
    }
    if (decision.kind !== 'take') {
      kept.waitsSince ??= this.#now;
      if (decision.kind === 'ask') kept.asked = true;
      return false;
    }
    const [{ rule, berths }] = decision.offers as [(typeof decision.offers)[0]];
    kept.waited = waited ?? 0;
    kept.waitsSince = null;
    this.#put(kept, kept.booked.berths.indexOf(berths[0]!), berths[0]!, rule);
    return true;
  }

  /** What the rules say, without the yards where its work does not let it go. */
  #decide(kept: Kept, scene: YardScene, coming: ComingTrain, waited: number | null): TrackDecision {
    const closed: number[] = [];
    for (;;) {
      const decision = decideTrack(this.rules, scene, coming, waited, closed);
      if (decision.kind !== 'overflow') return decision;
      if (mayGoTo(this.world, kept.booked, decision.to)) return decision;
      closed.push(decision.rule.place);
    }
  }

  #coming({ booked, depart }: Kept): ComingTrain {
    const { file, length } = this.world.stock.trains[booked.train]!;
    const { id, class: kind } = file;
    return {
      train: booked.train,
      id,
      class: kind,
      length,
      visit: booked.stop,
      depart,
      berths: booked.berths,
    };
  }

  readonly #departures = (train: number): number =>
    this.#kept.filter(({ booked, left }) => booked.train === train && left !== null).length;

  /** The next moment at which something may happen; null when nothing is to come in the session. */
  #nextMoment(): number | null {
    const holds = this.rules.nothingFits.flatMap((it) => (it.do === 'hold' ? [it.minutes] : []));
    const moments = this.#kept.flatMap((kept) => {
      const { booked, berth, sent, left, depart, waitsSince } = kept;
      if (left !== null || sent !== null) return [];
      if (berth !== null) {
        const out = booked.berths[berth]!.out;
        const asked = depart <= this.#now ? [this.#askedFor(kept), this.#now + MINUTE] : [];
        return [depart, this.#freeAt[out], ...asked];
      }
      if (waitsSince === null) return [booked.arrive];
      let until = waitsSince;
      return holds.map((minutes) => (until += minutes * MINUTE));
    });
    const later = moments.filter((it) => it > this.#now && it <= this.world.timetable.end);
    return later.length === 0 ? null : Math.min(...later);
  }
}
