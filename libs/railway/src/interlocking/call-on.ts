import { blockOf, type DividedTrack, type Heading, type Layout } from '../layout/layout.js';
import { stands } from '../movement/standing.js';
import type { EngineState, PathItem } from '../session/state.js';
import type { WaitReason } from '../session/wait-reason.js';

/**
 * Call-on: the movement of a train into a platform track in which another stands, from behind it or towards it. The track is
 * divided into blocks, and each of these is one train's as everywhere; so no two ever share what a detector sees. Where
 * the layout does not allow it one train at a time is in the track. Where it does, a second is let in if
 *
 * - all others in the track are known for certain, stand proven, and stand in it whole, with no way out given to them;
 * - nothing unknown is in it;
 *
 * and then its signal shows call-on, it comes in at restricted speed from that signal on, and its authority ends
 * {@link CALL_ON_GAP} short of its block's end. That it can stop short of what stands there follows from its braking curve
 * and is not left to its driver's sight: the curve ends before the nearest place where the other can stand. Published
 * for signals by sight only, as permissive working; that it is tied to certain knowledge is our own rule.
 */

/** How far short of the end of its block a train that was called on has authority, mm. */
export const CALL_ON_GAP = 100;

/** What keeps a train out of the divided track that a heading's block is part of, or null. */
export function sharedTrackInTheWay(
  layout: Layout,
  state: EngineState,
  train: number,
  to: Heading,
): WaitReason | null {
  const track = trackOf(layout, to);
  if (track === null) return null;
  for (const block of track.blocks) {
    const { holder } = state.elements[block]!;
    if (holder === train) continue;
    if (holder >= 0) {
      if (track.callOn && standsWhollyIn(state, holder, track)) continue;
      return { kind: 'element-held', element: block, by: holder };
    }
    for (const section of layout.elements[block]!.sections) {
      const { belief } = state.sections[section]!;
      if (belief !== 'clear') return { kind: 'section-occupied', section, belief };
    }
  }
  return null;
}

/** Whether a train that is let into a heading's block is called on: another is in the track. */
export function isCallOn(layout: Layout, state: EngineState, train: number, to: Heading): boolean {
  const blocks = trackOf(layout, to)?.blocks ?? [];
  return blocks.some((block) => {
    const { holder } = state.elements[block]!;
    return holder >= 0 && holder !== train;
  });
}

/** How far from the end of the last block of its way a train has authority at the most, mm; `fouling`: short of what fouls there. */
export const gapAhead = ({ calledOn }: PathItem, fouling: number): number =>
  calledOn === true ? Math.max(fouling, CALL_ON_GAP) : fouling;

function trackOf({ dividedTracks, dividedTrackOf }: Layout, to: Heading): DividedTrack | null {
  return dividedTracks[dividedTrackOf[blockOf(to)] ?? -1] ?? null;
}

/** Whether nothing is open about a train, it stands, and all that it holds is in the track. */
function standsWhollyIn(state: EngineState, index: number, { blocks }: DividedTrack): boolean {
  const { activity, confirmed, adrift, identity, path } = state.trains[index]!;
  return (
    activity.kind === 'standing' &&
    stands({ state }, index) &&
    confirmed &&
    !adrift &&
    identity.certainty !== 'ambiguous' &&
    identity.certainty !== 'expected' &&
    !state.doubts.some(({ trains }) => trains.includes(index)) &&
    path.every(({ element }) => blocks.includes(element))
  );
}
