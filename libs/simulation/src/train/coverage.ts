import type { Body, Simulation } from '../state.js';
import type { Claim, TrackPiece } from '../track/ways.js';
import { countAxles, countLocomotive } from '../wayside/sections.js';
import { wayAt } from './body.js';
import { meetAcross } from './contact.js';

/** A stretch of a body comes over a piece (1) or leaves it (−1): detectors, decoders and fouling follow. */
export function cover(
  simulation: Simulation,
  body: Body,
  stretch: number,
  piece: TrackPiece,
  change: 1 | -1,
): void {
  const { kind, locomotive } = body.stretches[stretch]!;
  switch (kind) {
    case 'whole':
      for (const claim of piece.claims) {
        if (change === 1) hold(simulation, body, claim);
        else letGo(simulation, body, claim);
      }
      return;
    case 'axles':
      if (piece.section >= 0) countAxles(simulation, piece.section, change);
      return;
    case 'locomotive':
      if (piece.section >= 0) countLocomotive(simulation, piece.section, locomotive, change);
  }
}

/** The same for everything under a body: when it is set down (1) or lifted (−1). */
export function coverAll(simulation: Simulation, body: Body, change: 1 | -1): void {
  body.stretches.forEach((_, stretch) => {
    for (const piece of piecesUnder(simulation, body, stretch)) {
      cover(simulation, body, stretch, piece, change);
    }
  });
}

/** The pieces a stretch overlaps, rear to front. */
export function piecesUnder(
  simulation: Simulation,
  body: Body,
  stretch: number,
): readonly TrackPiece[] {
  const frontPoint = stretch * 2;
  const rearPoint = frontPoint + 1;
  const lastStep = body.stepOf[frontPoint]!;
  const pieces: TrackPiece[] = [];
  for (let step = body.stepOf[rearPoint]!; step <= lastStep; step += 1) {
    const all = wayAt(simulation, body, step).pieces;
    const from = step === body.stepOf[rearPoint] ? body.pieceOf[rearPoint]! : 0;
    const to = step === lastStep ? body.pieceOf[frontPoint]! : all.length - 1;
    for (let place = from; place <= to; place += 1) pieces.push(all[place]!);
  }
  return pieces;
}

function hold(simulation: Simulation, body: Body, claim: Claim): void {
  const { state, world } = simulation;
  const holders = state.holders[claim.element]!;
  const mine = holders.find((it) => it.body === body.id && it.slot === claim.slot);
  if (mine !== undefined) {
    mine.pieces += 1;
    return;
  }
  holders.push({ body: body.id, slot: claim.slot, pieces: 1 });
  const excluded = world.track.conflicts[claim.element]![claim.slot]!;
  for (const holder of holders) {
    if (!excluded[holder.slot]) continue;
    meetAcross(simulation, body, state.bodies[holder.body]!, claim.element);
  }
}

function letGo({ state }: Simulation, body: Body, claim: Claim): void {
  const holders = state.holders[claim.element]!;
  const place = holders.findIndex((it) => it.body === body.id && it.slot === claim.slot);
  const mine = holders[place]!;
  mine.pieces -= 1;
  if (mine.pieces === 0) holders.splice(place, 1);
}
