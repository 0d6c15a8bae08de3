import type { Lever } from '@blockbell/contract/messages';
import { parseClockText } from '@blockbell/railway';
import type { Railway } from '../live/session-files.js';

/** A name for one more service that no other has. */
export function extraName({ timetable }: Railway): string {
  const taken = new Set(timetable.services.map(({ file }) => file.name));
  let number = 1;
  while (taken.has(`Extra ${number}`)) number++;
  return `Extra ${number}`;
}

/** A time of the fast clock as the engine reads it; undefined: none is entered; null: it can't be read. */
export function readTime(entered: string): string | undefined | null {
  const text = entered.trim();
  if (text === '') return undefined;
  const padded = /^\d:/.test(text) ? `0${text}` : text;
  return parseClockText(padded) === null ? null : padded;
}

interface Wanted {
  readonly name: string;
  readonly station: string;
  /** Empty: any. */
  readonly track: string;
  readonly notBefore: string | undefined;
}

/** Has a train go to a station when its other work is done. */
export function serviceTo(train: number, { name, station, track, notBefore }: Wanted): Lever {
  const tracks = track === '' ? {} : { tracks: [track] };
  const service = { name, calls: [{ station: station as StationName, ...tracks }] };
  return {
    kind: 'add-service',
    train,
    service: notBefore === undefined ? service : { ...service, notBefore },
    before: null,
  };
}

type StationName = Extract<Lever, { kind: 'add-service' }>['service']['calls'][number]['station'];
