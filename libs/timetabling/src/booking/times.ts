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

export const writeTime = (time: number): string => formatClockText(fastTime(Math.round(time)));
