import { overlap } from './in-the-way.js';
import type { Stay } from './yard.js';

/** A stay in a track and the room it takes there. */
export interface Taken {
  readonly stay: Stay;
  readonly needs: number;
}

/** The most room that is taken in a track at one moment of a stay, its own included. */
export function mostTaken(others: readonly Taken[], own: Taken): number {
  const there = others.filter(({ stay }) => overlap(stay, own.stay));
  const moments = [own, ...there].map(({ stay }) => Math.max(stay.arrive, own.stay.arrive));
  return Math.max(
    ...moments.map((moment) =>
      there.reduce(
        (sum, { stay, needs }) =>
          stay.arrive <= moment && moment < stay.depart ? sum + needs : sum,
        own.needs,
      ),
    ),
  );
}
