import type { Writer } from '../session/writer.js';
import { chainSentence, waitChain, type WaitChain } from './wait-chain.js';

/** A wait is told of when it has lasted so long; shorter ones are the setting of a way. Physical ms. */
const LASTS = 5000;
/** Of one train at most one line in this time, physical ms. */
const LEAST_BETWEEN = 30_000;

/** What was last told of a train's wait: what its root was, and when to look at it again, physical ms. */
export interface ToldWait {
  readonly root: string;
  readonly next: number;
}

/** Writes a line when a train's wait for something in its way has lasted a while, and when its root has changed since. */
export function tellWaits(w: Writer): void {
  w.state.trains.forEach(({ wait, waitingSince, told }, index) => {
    if (w.now < (told?.next ?? 0)) return;
    if (wait === null) return forget(w, index);
    if (w.now - waitingSince < LASTS) return;
    const chain = waitChain(w.world, w.state, index);
    if (chain === null || !isWorthALine(chain)) return forget(w, index);
    const root = rootText(chain);
    const isNews = told?.root !== root;
    w.train(index).told = { root, next: w.now + (isNews ? LEAST_BETWEEN : LASTS) };
    if (isNews) w.log(`${chainSentence(w.world, chain)}.`, index);
  });
}

function forget(w: Writer, index: number): void {
  if (w.state.trains[index]!.told !== null) w.train(index).told = null;
}

/** What a person did or the timetable says stands in the log and on the board already. */
function isWorthALine({ links, root }: WaitChain): boolean {
  if (links.length > 1) return true;
  const [first] = links;
  switch (first!.reason?.kind) {
    case 'searching':
    case 'turnout-moving':
      return false;
    default:
      return root.kind === 'track' || root.kind === 'safety';
  }
}

function rootText({ links, root }: WaitChain): string {
  const last = links.at(-1)!;
  return root.kind === 'running'
    ? `running ${root.train}`
    : `${root.kind} ${root.train} ${last.reason?.kind ?? ''}`;
}
