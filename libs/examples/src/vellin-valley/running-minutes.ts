/**
 * Booked minutes of the fast clock between neighbouring stations, from stand to stand, with a little slack. At
 * 6:1 a minute is ten seconds on the layout.
 */
export type Pace = 'express' | 'stopping' | 'freight' | 'suburban' | 'railcar';

/** Express, stopping and freight trains leave Selquay round the balloon loop, the others straight back. */
const MINUTES: Readonly<Record<Pace, Readonly<Record<string, number>>>> = {
  express: {
    'undercroft brindlemere': 9,
    'brindlemere ostraven': 6,
    'ostraven selquay': 7,
    'selquay ostraven': 11,
    'ostraven brindlemere': 6,
    'brindlemere undercroft': 15,
  },
  stopping: {
    'undercroft brindlemere': 10,
    'brindlemere ostraven': 7,
    'ostraven selquay': 8,
    'selquay ostraven': 12,
    'ostraven brindlemere': 7,
    'brindlemere undercroft': 16,
  },
  freight: {
    'undercroft brindlemere': 11,
    'brindlemere ostraven': 8,
    'ostraven selquay': 9,
    'selquay ostraven': 14,
    'ostraven brindlemere': 8,
    'brindlemere undercroft': 18,
  },
  suburban: {
    'undercroft brindlemere': 9,
    'brindlemere ostraven': 7,
    'ostraven selquay': 7,
    'selquay ostraven': 7,
    'ostraven brindlemere': 7,
    'brindlemere undercroft': 9,
    'ostraven pellow': 7,
    'pellow dunmarrow': 6,
    'dunmarrow pellow': 6,
    'pellow ostraven': 7,
  },
  railcar: {
    'brindlemere ostraven': 8,
    'ostraven pellow': 7,
    'pellow dunmarrow': 6,
    'dunmarrow pellow': 6,
    'pellow ostraven': 7,
    'ostraven brindlemere': 8,
  },
};

export function runningMinutes(pace: Pace, from: string, to: string): number {
  const minutes = MINUTES[pace][`${from} ${to}`];
  if (minutes === undefined) throw new Error(`no ${pace} runs from ${from} to ${to}`);
  return minutes;
}
