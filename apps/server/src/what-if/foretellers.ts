import { here, inThread, type SideWorker } from '../side-thread.js';
import { WhatIfs, type FromForeteller, type ToForeteller } from './what-ifs.js';

/** Works out what commands would change, beside what else the server does. */
export type Foreteller = SideWorker<ToForeteller>;

/** Begins a foreteller; it answers, or says once that it answers no more. */
export type MakeForeteller = (
  answer: (answer: FromForeteller) => void,
  lost: (why: string) => void,
) => Foreteller;

/** Token of {@link MakeForeteller} for injection. */
export const FORETELLERS = Symbol('foretellers');

/** A thread runs compiled code only: whoever runs the server from its sources foretells where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

export const foretellersInThreads: MakeForeteller = (answer, lost) => {
  if (IS_COMPILED) return inThread(new URL('./what-if-thread.js', import.meta.url), answer, lost);
  const whatIfs = new WhatIfs();
  return here((message) => whatIfs.take(message), answer);
};
