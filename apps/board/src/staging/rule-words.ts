import type { DepartureOrder, Fallback, StationId, TrackOrder } from '@blockbell/railway';

/** How the orders of tracks are chosen. */
export const TRACK_ORDERS: Readonly<Record<TrackOrder['by'], string>> = {
  'least-spare': 'nearest fit',
  'most-spare': 'most length to spare',
  'fewest-buried': 'fewest in one another’s way',
  call: 'as the call prefers',
  list: 'as the layout lists',
  fullest: 'fullest',
  emptiest: 'emptiest',
  rotation: 'in rotation',
  random: 'by chance, seed',
};

/** How the orders of departures are chosen. */
export const DEPARTURE_ORDERS: Readonly<Record<DepartureOrder['by'], string>> = {
  timetable: 'as booked',
  'longest-waiting': 'longest waiting',
  rotation: 'in rotation',
  class: 'by class:',
  priority: 'most important',
  random: 'by chance, seed',
};

export const FALLBACKS: Readonly<Record<Fallback['do'], string>> = {
  hold: 'hold it outside',
  take: 'take another track',
  overflow: 'send it to another yard',
  ask: 'ask the dispatcher',
};

/** @param yards the other staging yards of the layout */
export function freshFallback(what: string, yards: readonly { readonly id: string }[]): Fallback {
  switch (what) {
    case 'hold':
      return { do: 'hold', minutes: 10 };
    case 'take':
      return { do: 'take', order: [] };
    case 'overflow':
      return { do: 'overflow', to: (yards[0]?.id ?? '') as StationId };
    default:
      return { do: 'ask' };
  }
}

/** The same with one field set, or left out where there is nothing to set. */
export function withField<T extends object, K extends keyof T>(
  whole: T,
  name: K,
  value: T[K] | null,
): T {
  const { [name]: _, ...rest } = whole;
  return (value === null ? rest : { ...rest, [name]: value }) as T;
}
