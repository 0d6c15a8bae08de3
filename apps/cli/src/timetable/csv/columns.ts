/** The columns of a timetable in CSV, one row a call; calls of a service follow one another. */
export const COLUMNS = [
  'service',
  'name',
  'working',
  'station',
  'arrive',
  'depart',
  'stop',
  'tracks',
  'dwell_fast',
  'dwell_real',
] as const;

export type Column = (typeof COLUMNS)[number];
export type Row = Readonly<Record<Column, string>>;

/** Between the tracks of a call, in order of preference. */
export const TRACKS = ' ';
