import { releaseApproach } from '../interlocking/approach-locking.js';
import { extendAuthority } from '../interlocking/authority.js';
import { giveBackUnproven } from '../interlocking/give-back.js';
import { freeOverlap } from '../interlocking/overlap.js';
import { controlTrain } from '../movement/control.js';
import { halt } from '../movement/halt.js';
import { settleStanding } from '../occupancy/doubt.js';
import { stopEverything } from './stop-all.js';
import type { FollowUp } from './follow-up.js';
import type { Writer } from './writer.js';

/** Carries out what was left to follow, and what that leaves in turn. */
export function carryOutFollowUps(w: Writer): void {
  for (let next = w.followUps.shift(); next !== undefined; next = w.followUps.shift()) {
    carryOut(w, next);
  }
}

function carryOut(w: Writer, followUp: FollowUp): void {
  switch (followUp.kind) {
    case 'control':
      return controlTrain(w, followUp.train);
    case 'authority':
      return extendAuthority(w, followUp.train);
    case 'give-back':
      return giveBackUnproven(w, followUp.train);
    case 'release-approach':
      return releaseApproach(w, followUp.train);
    case 'free-overlap':
      return freeOverlap(w, followUp.train);
    case 'settle-doubt':
      return settleStanding(w, followUp.train);
    case 'halt':
      return halt(w, followUp.train, followUp.why, followUp.mend);
    case 'stop-everything':
      return stopEverything(w, followUp.why);
  }
}
