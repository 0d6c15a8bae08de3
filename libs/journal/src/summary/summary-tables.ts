import { stringify } from 'csv-stringify/sync';
import type { SessionSummary } from './session-summary.js';

type Cell = string | number;

/** A summary's tables as CSV (RFC 4180), by their names; times in fast-clock minutes. */
export const summaryTables = ({
  services,
  alarms,
  locomotives,
  detectors,
}: SessionSummary): Readonly<
  Record<'services' | 'alarms' | 'locomotives' | 'detectors', string>
> => ({
  services: csv(
    ['service', 'name', 'train', 'run', 'late', 'entry', 'own', 'waits', 'recovered', 'causes'],
    services.map((it) => [
      it.service,
      it.name,
      it.train,
      it.run ? 'yes' : 'no',
      it.late === null ? '' : inMinutes(it.late),
      ...[it.entry, it.own].map(inMinutes),
      inMinutes(it.waits.reduce((sum, { time }) => sum + time, 0)),
      inMinutes(it.recovered),
      causesText(it),
    ]),
  ),
  alarms: csv(
    ['kind', 'count', 'first'],
    alarms.map(({ kind, count, first }) => [kind, count, first]),
  ),
  locomotives: csv(
    ['locomotive', 'name', 'train', 'address', 'visits', 'answered', 'verdict'],
    locomotives.map((it) => [
      it.locomotive,
      it.name,
      it.train ?? '',
      it.address,
      it.visits,
      it.answered,
      it.verdict,
    ]),
  ),
  detectors: csv(
    [
      'section',
      'place',
      'reads-decoders',
      'occupied',
      'flickers',
      'strange',
      'visits',
      'read',
      'misread',
      'verdict',
    ],
    detectors.map((it) => [
      it.section,
      it.place,
      it.readsDecoders ? 'yes' : 'no',
      it.occupied,
      it.flickers,
      it.strange,
      it.visits,
      it.read,
      it.misread,
      it.verdict,
    ]),
  ),
});

/** Why a service was late: `1.2 min for 33 at Selquay 4`, the longest first. */
export const causesText = ({ waits }: SessionSummary['services'][number]): string =>
  waits
    .map(({ for: other, place, why, time }) =>
      other === null
        ? `${inMinutes(time)} min ${why} at ${place}`
        : `${inMinutes(time)} min for ${other} at ${place}`,
    )
    .join('; ');

const inMinutes = (fast: number): number => Math.round(fast / 6000) / 10;

const csv = (head: readonly string[], rows: readonly (readonly Cell[])[]): string =>
  stringify([head, ...rows], { record_delimiter: 'windows' });
