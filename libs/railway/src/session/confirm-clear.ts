import type { Element } from '../layout/layout.js';
import { stands } from '../movement/standing.js';
import { candidates } from '../occupancy/strangers.js';
import { hasPassed, proveTail } from '../occupancy/tail-proof.js';
import { clearAlarm } from './alarms.js';
import { clearDeadline } from './deadlines.js';
import { refusal, type Refusal } from './refusal.js';
import type { Writer } from './writer.js';

/**
 * The reset of a false occupancy: a person looked and found the track of an element clear. What its detectors still say is
 * set aside until they say it anew; the reset is counted and written down with before and after; the first train over it
 * runs at restricted speed. Source: the Indian Railways' signal manual, 17.7.5.
 */
export function confirmClear(w: Writer, by: string, index: number): Refusal | null {
  const element = w.world.layout.elements[index]!;
  const refused = cannotBeJudged(w, element);
  if (refused !== null) return refused;
  const open = element.sections.filter((each) => w.state.sections[each]!.belief !== 'clear');
  if (open.length === 0) {
    return refusal(
      'not-strange',
      `${element.id} reads clear already; nothing is to be reset there.`,
    );
  }
  for (const section of open) {
    const inTheWay = whoMayStandIn(w, section);
    if (inTheWay !== null) return inTheWay;
  }
  for (const section of open) reset(w, by, section);
  return null;
}

/** Only track that is detected, fed and heard can be said to be other than its detectors say. */
function cannotBeJudged(w: Writer, { id, sections }: Element): Refusal | null {
  const { phase } = w.state.session;
  if (phase.kind === 'line-up' && !phase.settled) {
    return refusal('not-settled', 'The detectors are still reporting; wait a moment.');
  }
  for (const index of sections) {
    const { district, bus } = w.world.layout.sections[index]!;
    if (w.state.districts[district]!.power !== 'on') {
      const name = w.world.layout.districts[district];
      return refusal(
        'no-power',
        `Nothing is detected in ${id} without power; raise ${name} first.`,
      );
    }
    if (!w.state.buses[bus.id]) {
      return refusal(
        'bus-silent',
        `Bus ${bus.id} is silent, so ${id} cannot be watched; mend it first.`,
      );
    }
  }
  return null;
}

/** A train that may be what its detector sees: the one it is held for, unless that has passed whole; one that may have rolled there. */
function whoMayStandIn(w: Writer, section: number): Refusal | null {
  const { claim } = w.state.sections[section]!;
  const { id } = w.world.layout.sections[section]!;
  const label = (train: number): string => w.world.stock.trains[train]!.file.label;
  if (claim >= 0) {
    return hasPassed(w, claim, section)
      ? null
      : refusal(
          'held',
          `Section ${id} is held for ${label(claim)}, which may stand there; say where that train stands instead.`,
        );
  }
  const moving = candidates(w, section).find(({ train }) => isMoving(w, train));
  if (moving === undefined) return null;
  return refusal(
    'still-moving',
    `${label(moving.train)} may have moved to section ${id} and is not proven standing yet; wait a moment.`,
  );
}

const isMoving = (w: Writer, train: number): boolean =>
  w.state.trains[train]!.activity.kind !== 'absent' && !stands(w, train);

function reset(w: Writer, by: string, index: number): void {
  const section = w.section(index);
  const { id } = w.world.layout.sections[index]!;
  const { belief: before, claim } = section;
  const number = ++w.state.counts.resets;
  section.belief = 'clear';
  section.since = w.now;
  section.clearByHand = `${by} found it clear (reset ${number}); its detector had said ${before}.`;
  section.unidentified = null;
  clearDeadline(w.state, 'hold-off', index);
  clearDeadline(w.state, 'left-behind', index);
  clearAlarm(w, `stranger:${id}`);
  clearAlarm(w, `behind:${id}`);
  w.log(
    `Reset ${number}: ${by} looked at section ${id}: ${before} before, clear after. The first train over it runs at restricted speed.`,
  );
  w.changes.lineUp = true;
  w.state.dispatching.due = true;
  if (claim < 0) return;
  // What that train has proven of it was before.
  w.train(claim).proving = w.state.trains[claim]!.proving.filter((each) => each !== index);
  proveTail(w, claim);
}
