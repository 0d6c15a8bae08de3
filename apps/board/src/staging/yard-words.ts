import type { SessionView } from '@blockbell/contract/messages';
import type { Railway } from '../live/session-files.js';
import type { LiveRows } from '../live/live-rows.js';
import type { TrackOption, Whereabouts } from '@blockbell/staging';

/** What is known of every train from the rows, in the order of the stock. */
export const whereabouts = ({ stock }: Railway, rows: LiveRows): Whereabouts[] =>
  stock.trains.map((_, train) => ({
    holds: (rows.trains.get(train)?.path ?? []).map(({ element }) => element),
    calls: rows.runs.get(train)?.calls ?? [],
  }));

/** What putting a train into a track would mean: "track 3: nobody in the way, 1200 mm to spare". */
export function optionWords(option: TrackOption, label: (train: number) => string): string {
  const track = `track ${option.track}`;
  if (!option.hasRoom) return `${track}: no room now`;
  const harm = [
    ...(option.buries.length === 0
      ? []
      : [`keeps ${option.buries.map(label).join(', ')} from leaving`]),
    ...(option.buriedBy.length === 0
      ? []
      : [`is kept from leaving by ${option.buriedBy.map(label).join(', ')}`]),
  ];
  return `${track}: ${harm.length === 0 ? 'nobody in the way' : harm.join(', ')}, ${option.spare} mm to spare`;
}

type OpenRunView = NonNullable<SessionView['openServices']>[number];

/** What has become of a service that names no train. `label`: of the train that works it; `until`: when it is given up. */
export function openWords(
  run: OpenRunView | null,
  label: string | null,
  classes: readonly string[] | undefined,
  until: string,
): string {
  const of = classes === undefined ? 'any train' : `a train of class ${classes.join(' or ')}`;
  switch (run?.state) {
    case 'given':
      return `${label ?? ''} works it; ${run.why ?? ''}`;
    case 'not-run':
      return run.why ?? 'not run';
    default:
      return `when it leaves the rules choose ${of} that is free here, until ${until}.${
        run?.why ? ` Not yet: ${run.why}` : ''
      }`;
  }
}
