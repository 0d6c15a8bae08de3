import {
  compileWorld,
  type EngineState,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import { planReturn, type ReturnPlan } from '@blockbell/staging';
import { here, inThread, type SideWorker } from '../side-thread.js';

/** A session whose trains are to return to start: its files, and the engine's memory. */
export interface ReturnAsked {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly state: EngineState;
}

/** Real ms after which planning is given up. */
const LONGEST = 60_000;
/** A thread runs compiled code only: whoever runs the server from its sources plans where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

export const planFor = ({ layout, stock, timetable, state }: ReturnAsked): ReturnPlan =>
  planReturn(compileWorld(layout, stock, timetable), state);

/** Plans in a thread of its own, so that the one that runs trains is not held up; rejects with the reason. */
export function planInThread(asked: ReturnAsked): Promise<ReturnPlan> {
  let worker: SideWorker<ReturnAsked> | null = null;
  let late: ReturnType<typeof setTimeout> | undefined;
  return new Promise<ReturnPlan>((answer, refuse) => {
    const lost = (why: string): void => refuse(new Error(why));
    late = setTimeout(() => lost('it took more than a minute'), LONGEST);
    worker = IS_COMPILED
      ? inThread(new URL('./return-thread.js', import.meta.url), answer, lost)
      : here(planFor, answer);
    worker.send(asked);
  }).finally(() => {
    clearTimeout(late);
    worker?.close();
  });
}
