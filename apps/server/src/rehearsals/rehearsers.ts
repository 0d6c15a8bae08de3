import { inThread, type SideWorker } from '../side-thread.js';
import { RehearsalWork, type FromRehearser, type ToRehearser } from './rehearsal-work.js';

/** Rehearses one lot of sessions beside what else the server does. */
export type Rehearser = SideWorker<ToRehearser>;

/** Begins a rehearser; it tells how it goes, or says once that it goes on no more. */
export type MakeRehearser = (
  tell: (message: FromRehearser) => void,
  lost: (why: string) => void,
) => Rehearser;

/** Token of {@link MakeRehearser} for injection. */
export const REHEARSERS = Symbol('rehearsers');

/** A thread runs compiled code only: whoever runs the server from its sources rehearses where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

export const rehearsersInThreads: MakeRehearser = (tell, lost) => {
  if (IS_COMPILED) return inThread(new URL('./rehearsal-thread.js', import.meta.url), tell, lost);
  const work = new RehearsalWork(tell);
  return {
    send: (message) => work.take(message),
    close: () => work.take({ kind: 'break-off' }),
  };
};
