import { parseClockText, type TimetableFile, fastTime, formatClockText } from '@blockbell/railway';
import type { TimeChange } from '../findings/finding.js';

const MINUTE = 60_000;
const SECOND = 1000;

/** The unit a timetable's times are written in, fast ms: whole minutes where no time has seconds. */
export function grainOf({ services }: TimetableFile): number {
  const hasSeconds = ({ arrive, depart }: { arrive?: string; depart?: string }): boolean =>
    [arrive, depart].some((text) => text !== undefined && (parseClockText(text) ?? 0) % MINUTE > 0);
  return services.some(({ calls }) => calls.some(hasSeconds)) ? SECOND : MINUTE;
}

export const roundUp = (time: number, grain: number): number => Math.ceil(time / grain) * grain;

/** The timetable with some of its times changed. Changes of calls that are not there are left out. */
export function applyChanges(file: TimetableFile, changes: readonly TimeChange[]): TimetableFile {
  if (changes.length === 0) return file;
  const services = file.services.map((service) => {
    const own = changes.filter((change) => change.service === service.id);
    if (own.length === 0) return service;
    const calls = service.calls.map((call, index) =>
      own
        .filter((change) => change.call === index)
        .reduce((changed, { what, to }) => ({ ...changed, [what]: to }), call),
    );
    return { ...service, calls };
  });
  return { ...file, services };
}

/** How two versions of a timetable differ in the times of calls both have. */
export function changesBetween(before: TimetableFile, after: TimetableFile): TimeChange[] {
  const changed = new Map(after.services.map((service) => [service.id, service]));
  return before.services.flatMap(({ id, calls }) =>
    calls.flatMap((call, index) =>
      (['arrive', 'depart'] as const).flatMap((what): TimeChange[] => {
        const from = call[what];
        const to = changed.get(id)?.calls[index]?.[what];
        return from === undefined || to === undefined || from === to
          ? []
          : [{ service: id, call: index, what, from, to }];
      }),
    ),
  );
}

export const writeTime = (time: number): string => formatClockText(fastTime(Math.round(time)));
