import { stringify } from 'csv-stringify/sync';
import type { Comparison } from '../report/compare.js';
import type { RehearsalReport } from '../report/report.js';

type Cell = string | number;

/** The tables of a report as CSV (RFC 4180), by file name. Times in minutes of the fast clock, shares in percent. */
export function reportTables(report: RehearsalReport): Record<string, string> {
  const spread = ['arrivals', 'mean', 'p10', 'median', 'p90', 'p95', 'most'];
  const spreadCells = (late: RehearsalReport['lateness']): Cell[] => [
    late.count,
    ...[late.mean, late.p10, late.median, late.p90, late.p95, late.most].map(rounded),
  ];
  return {
    'services.csv': csv(
      ['service', 'name', 'train', ...spread, 'within3', 'low3', 'high3', 'within5', 'not-run'],
      report.services.map(({ service, name, train, late, within3, within5, notRun }) => [
        service,
        name,
        train,
        ...spreadCells(late),
        ...[within3.percent, within3.low, within3.high, within5.percent].map(rounded),
        notRun,
      ]),
    ),
    'places.csv': csv(
      ['station', 'name', ...spread, 'within3'],
      report.places.map(({ station, name, late, within3 }) => [
        station,
        name,
        ...spreadCells(late),
        rounded(within3),
      ]),
    ),
    'waits.csv': csv(
      ['place', 'element', 'for', 'minutes-per-session'],
      report.waits.byPlace.flatMap(({ place, element, for: whom }) =>
        whom.map(({ train, perSession }) => [place, element ?? '', train, rounded(perSession)]),
      ),
    ),
    'connections.csv': csv(
      ['from', 'to', 'place', 'missed', 'of', 'percent', 'low', 'high'],
      report.connections.map(({ from, to, place, missed }) => [
        from,
        to,
        place,
        missed.hits,
        missed.of,
        ...[missed.percent, missed.low, missed.high].map(rounded),
      ]),
    ),
    'yards.csv': csv(
      ['yard', 'fast-clock-ms', 'mean', 'p10', 'median', 'p90', 'most'],
      report.yards.flatMap(({ name, samples }) =>
        samples.map(({ fast, mean, p10, median, p90, most }) => [
          name,
          fast,
          ...[mean, p10, median, p90, most].map(rounded),
        ]),
      ),
    ),
  };
}

export const comparisonTable = ({ lines }: Comparison): string =>
  csv(
    ['what', 'unit', 'first', 'second', 'difference', 'low', 'high', 'verdict'],
    lines.map(({ what, unit, first, second, difference, verdict }) => [
      what,
      unit,
      ...[first, second, difference.mean].map(rounded),
      difference.low === null ? '' : rounded(difference.low),
      difference.high === null ? '' : rounded(difference.high),
      verdict,
    ]),
  );

const rounded = (value: number): number => Math.round(value * 1000) / 1000;

const csv = (head: readonly string[], rows: readonly (readonly Cell[])[]): string =>
  stringify([head, ...rows], { record_delimiter: 'windows' });
