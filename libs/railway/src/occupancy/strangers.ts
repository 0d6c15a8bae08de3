import { clearAlarm, raiseAlarm } from '../session/alarms.js';
import type { Seen, Writer } from '../session/writer.js';
import { strangeSections } from '../session/line-up.js';
import { addressKey } from '../stock/compile-stock.js';
import { adjoins, mayHaveStrayedInto } from './adjacent.js';
import { doubtStrayed } from './astray.js';
import { shares, weightOfFaults, weightOfSilence } from './ranking.js';

/** A section nobody holds has become occupied: an obstacle, and whoever stands next to it may have moved. */
export function strangerSeen(w: Writer, index: number): void {
  const { id } = w.world.layout.sections[index]!;
  w.section(index).unidentified =
    `Section ${id} became occupied though no train has authority there.`;
  raiseAlarm(
    w,
    `stranger:${id}`,
    `Section ${id} is occupied by nobody known.`,
    'Look what stands there: say which train it is, or that the track is clear.',
  );
  doubtStrayed(w, index);
  const suspects = candidates(w, index).filter(({ train }) => !mayHaveStrayedInto(w, train, index));
  for (const { train, why } of suspects) {
    if (!w.state.trains[train]!.path.length) continue;
    w.follow({
      kind: 'halt',
      train,
      why: `section ${id} beside it became occupied (${why})`,
      mend: 'Look where it stands.',
    });
  }
  const ran = suspects.some(({ train }) => w.state.trains[train]!.path.length > 0);
  const runsOn = w.state.session.phase.kind === 'stopped';
  if (ran || runsOn) {
    w.follow({
      kind: 'stop-everything',
      why: `section ${id} became occupied without authority`,
    });
  }
}

/** A train that may be what was seen. */
export interface Candidate {
  readonly train: number;
  /** What speaks for it. */
  readonly why: string;
  /** How likely, of one; it ranks for a person and never decides. */
  readonly share: number;
}

/** Trains that may be the one seen: those that adjoin, and those whose place is not known; the likeliest first. */
export function candidates(w: Seen, section: number): Candidate[] {
  const found = possible(w, section);
  const { decoders } = w.state.sections[section]!;
  const { reportsIdentity } = w.world.layout.sections[section]!.detector;
  const weights = found.map(({ train }) => {
    const { addresses, answers } = w.world.stock.trains[train]!;
    if (decoders.length === 0) return reportsIdentity ? weightOfSilence(answers) : 1;
    const isRead = decoders.some((decoder) => addresses.includes(addressKey(decoder)));
    return weightOfFaults(isRead ? 0 : 1);
  });
  const parts = shares(weights);
  return found
    .map((candidate, at) => ({ ...candidate, share: parts[at]! }))
    .sort((a, b) => b.share - a.share || a.train - b.train);
}

function possible(w: Seen, section: number): { train: number; why: string }[] {
  const { decoders } = w.state.sections[section]!;
  return w.state.trains.flatMap((train, index) => {
    const { addresses } = w.world.stock.trains[index]!;
    if (decoders.some((decoder) => addresses.includes(addressKey(decoder)))) {
      return [{ train: index, why: 'its decoder answers there' }];
    }
    if (train.activity.kind === 'absent') {
      return w.world.timetable.storedPlaces[index] === null
        ? []
        : [{ train: index, why: 'it was taken off the layout' }];
    }
    if (w.state.session.phase.kind === 'line-up' && !train.confirmed) {
      return [{ train: index, why: 'its place is not confirmed' }];
    }
    if (mayHaveStrayedInto(w, index, section)) {
      return [{ train: index, why: 'a turnout on its way leads there' }];
    }
    return adjoins(w, index, section) ? [{ train: index, why: 'it stands next to it' }] : [];
  });
}

/** A block in which something stands that no train accounts for. */
export interface Stranger {
  readonly block: number;
  readonly text: string;
  readonly candidates: readonly Candidate[];
}

/** Everything occupied that no train accounts for, block by block. */
export function strangers(seen: Seen): Stranger[] {
  const found = new Map<number, Stranger>();
  for (const section of strangeSections(seen.state)) {
    const { id, elements } = seen.world.layout.sections[section]!;
    const block =
      elements.find((each) => seen.world.layout.elements[each]!.kind === 'block') ?? elements[0]!;
    const text =
      seen.state.sections[section]!.unidentified ??
      `Section ${id} is occupied, and no train is expected there.`;
    if (!found.has(block)) found.set(block, { block, text, candidates: candidates(seen, section) });
  }
  return [...found.values()];
}

/** A decoder answered in an unidentified section. */
export function nameStranger(w: Writer, section: number, train: number): void {
  const { label } = w.world.stock.trains[train]!.file;
  const { id } = w.world.layout.sections[section]!;
  w.section(section).unidentified =
    `Section ${id} is occupied without authority; the decoder of ${label} answered there.`;
}

/** The section reads free again. */
export function strangerGone(w: Writer, index: number): void {
  w.section(index).unidentified = null;
  clearAlarm(w, `stranger:${w.world.layout.sections[index]!.id}`);
}
