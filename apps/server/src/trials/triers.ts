import { inThread, type SideWorker } from '../side-thread.js';
import { TrialWork, type FromTrier, type ToTrier } from './trial-work.js';

/** Tries routes beside what else the server does. */
export type Trier = SideWorker<ToTrier>;

/** Begins a trier; it tells how it goes, or says once that it goes on no more. */
export type MakeTrier = (tell: (message: FromTrier) => void, lost: (why: string) => void) => Trier;

/** Token of {@link MakeTrier} for injection. */
export const TRIERS = Symbol('triers');

/** A thread runs compiled code only: whoever runs the server from its sources tries routes where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

export const triersInThreads: MakeTrier = (tell, lost) => {
  if (IS_COMPILED) return inThread(new URL('./trial-thread.js', import.meta.url), tell, lost);
  const work = new TrialWork(tell);
  return { send: (message) => work.take(message), close: () => work.drop() };
};
