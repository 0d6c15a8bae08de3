import {
  compileWorld,
  type EngineState,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import { planReturn, type ReturnPlan } from '@blockbell/staging';
import { once } from '../side-thread.js';

/** A session whose trains are to return to start: its files, and the engine's memory. */
export interface ReturnAsked {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly state: EngineState;
}

/** A thread runs compiled code only: whoever runs the server from its sources plans where they are. */
const IS_COMPILED = import.meta.url.endsWith('.js');

export const planFor = ({ layout, stock, timetable, state }: ReturnAsked): ReturnPlan =>
  planReturn(compileWorld(layout, stock, timetable), state);

/** Plans in a thread of its own; rejects with the reason. */
export const planInThread = (asked: ReturnAsked): Promise<ReturnPlan> =>
  once(IS_COMPILED ? new URL('./return-thread.js', import.meta.url) : null, planFor, asked);
