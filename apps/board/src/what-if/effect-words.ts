import type { Lever, WhatIfView } from '@blockbell/contract/messages';
import type { Railway } from '../live/session-files.js';
import { clockText } from '../shared/fast-text.js';
import { labelOf } from '../shared/train-words.js';

/** One arrival that comes at another time, in words. */
export interface ChangeWords {
  readonly key: string;
  readonly train: number;
  readonly place: string;
  readonly without: string;
  readonly with: string;
  /** `3 min later`, or empty where one of both does not come in time. */
  readonly difference: string;
}

export function changeWords(effect: WhatIfView, railway: Railway | null): ChangeWords[] {
  const notBy = `not by ${clockText(effect.until)}`;
  const time = (at: number | null): string => (at === null ? notBy : clockText(at));
  return effect.changes.map(
    ({ train, service, call, station, before, after, cancelled, added }) => {
      return {
        key: `${train} ${service} ${call}`,
        train,
        place: railway?.layout.stations[station]?.file.name ?? '',
        without: added ? 'not run' : time(before),
        with: cancelled ? 'cancelled' : time(after),
        difference: before === null || after === null ? '' : differenceWords(after - before),
      };
    },
  );
}

/** Fast-clock ms as whole minutes, at least one. */
function differenceWords(difference: number): string {
  const minutes = Math.max(1, Math.round(Math.abs(difference) / 60_000));
  return `${minutes} min ${difference > 0 ? 'later' : 'earlier'}`;
}

/** What the effect comes to, in two sentences. */
export function summaryWords({ changes, compared, lateness, until }: WhatIfView): string {
  const minutes = (fast: number): number => Math.round(fast / 60_000);
  const arrivals = `${compared} arrival${compared === 1 ? '' : 's'} until ${clockText(until)}`;
  const changed =
    changes.length === 0 ? 'none comes at another time' : `${changes.length} at another time`;
  return (
    `Of ${arrivals}, ${changed}. All trains together: ${minutes(lateness.before.total)} min late without it, ` +
    `${minutes(lateness.after.total)} min with it.`
  );
}

/** That what is added comes after what was looked at; null where an arrival of it is among the changes. */
export const laterWords = (kind: Lever['kind'], { changes, until }: WhatIfView): string | null =>
  kind !== 'add-service' || changes.some(({ added }) => added)
    ? null
    : `The added service arrives nowhere by ${clockText(until)}; what comes later is not looked at.`;

/** Trains that stand at the end, but for the timetable, because of the command; and how many would anyway. */
export function standingWords(
  { standing, until }: WhatIfView,
  railway: Railway | null,
): { readonly lines: readonly string[]; readonly anyway: string | null } {
  const names = (anyway: boolean) => standing.filter((it) => it.anyway === anyway);
  const at = clockText(until);
  const also = names(true).map(({ train }) => labelOf(railway, train));
  return {
    lines: names(false).map(({ why }) => `At ${at}: ${why}.`),
    anyway:
      also.length === 0 ? null : `With it or without, ${at} finds standing: ${also.join(', ')}.`,
  };
}
