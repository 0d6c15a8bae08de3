import type { Timetable } from '@blockbell/railway';
import type { ToldTrain } from '../live/told-train.js';
import { clockText, latenessWords } from '../shared/fast-text.js';

/** What a train is expected to do next. */
export interface Expected {
  /** Fast-clock ms. */
  readonly fast: number;
  /** Whether a plan says so; otherwise it is what is booked and how late the train is now. */
  readonly planned: boolean;
  /** For assistive technology and as a hint: `expected at 10:07, 2 minutes late, by the plan`. */
  readonly words: string;
}

/** The next thing expected of a train: where it stands its departure, else its next arrival; null when nothing is. */
export function expectedNext({ forecast, nextFast }: ToldTrain): Expected | null {
  const [first] = forecast?.calls ?? [];
  const fast = first?.arrive ?? first?.depart ?? null;
  if (!forecast || fast === null) return null;
  const planned = forecast.by === 'plan';
  const late = nextFast === null ? '' : `, ${latenessWords((fast - nextFast) / 1000)}`;
  return { fast, planned, words: `expected at ${clockText(fast)}${late}, ${byWords(forecast.by)}` };
}

/** All that is expected of a train in one sentence; null when nothing is. */
export function expectedWords(
  { forecast }: ToldTrain,
  timetable: Timetable,
  stations: readonly string[],
): string | null {
  if (!forecast || forecast.calls.length === 0) return null;
  const calls = forecast.calls.map(({ service, call, arrive, depart }) => {
    const booked = timetable.services[service]?.calls[call];
    const name = stations[booked?.station ?? -1] ?? '';
    const times = [
      ...(arrive === null ? [] : [timeWords('arrives', arrive, booked?.arrive ?? null)]),
      ...(depart === null ? [] : [timeWords('leaves', depart, booked?.depart ?? null)]),
    ];
    return `${name} ${times.join(', ')}`;
  });
  return `Expected ${byWords(forecast.by)}: ${calls.join('; ')}.`;
}

function timeWords(what: string, fast: number, booked: number | null): string {
  const minutes = booked === null ? 0 : Math.trunc((fast - booked) / 60_000);
  const late = minutes === 0 ? '' : ` (${latenessWords(minutes * 60)})`;
  return `${what} ${clockText(fast)}${late}`;
}

const byWords = (by: 'plan' | 'lateness'): string =>
  by === 'plan' ? 'by the plan' : 'without a plan, from booked times and how late it is';
