import type { Lever, TrainView } from '@blockbell/contract/messages';
import type { Railway } from '../live/session-files.js';
import { clockText } from '../shared/fast-text.js';
import { labelOf } from '../shared/train-words.js';

/** Something that can be wished of a train. */
export interface WishOption {
  /** As it stands in the list. */
  readonly text: string;
  readonly command: Lever;
  /** To go after "the effect of". */
  readonly what: string;
}

/** Services ahead that are offered to be cancelled. */
const SERVICES_AHEAD = 6;

/** Tracks of the calls to come for which the timetable leaves a choice, but those chosen already. */
export function trackOptions(row: TrainView, railway: Railway): WishOption[] {
  const { timetable, layout } = railway;
  const label = labelOf(railway, row.train);
  return (row.forecast?.calls ?? []).flatMap(({ service, call, arrive }) => {
    const booked = timetable.services[service]?.calls[call];
    if (booked === undefined || arrive === null || booked.tracks.length < 2) return [];
    const station = layout.stations[booked.station]?.file.name ?? '';
    const chosen = row.wishes?.tracks.find((it) => it.service === service && it.call === call);
    return booked.tracks
      .filter(({ name }) => name !== chosen?.track)
      .map(({ name }): WishOption => ({
        text: `${name} at ${station}, about ${clockText(arrive)}`,
        command: { kind: 'choose-track', train: row.train, service, call, track: name },
        what: `sending ${label} into ${name} at ${station}`,
      }));
  });
}

/** Other trains on the layout that it may go before. */
export function firstOptions(
  row: TrainView,
  others: Iterable<TrainView>,
  railway: Railway,
): WishOption[] {
  const label = labelOf(railway, row.train);
  return [...others]
    .filter(({ train, activity }) => train !== row.train && activity !== 'absent')
    .filter(({ train }) => row.wishes?.before.includes(train) !== true)
    .map(({ train }): WishOption => {
      const other = labelOf(railway, train);
      return {
        text: other,
        command: { kind: 'go-first', train: row.train, before: train, first: true },
        what: `letting ${label} go before ${other}`,
      };
    });
}

/** Services to come, each alone and with the one after it, which may bring the train back. */
export function cancelOptions(row: TrainView, railway: Railway): WishOption[] {
  const { services, workings } = railway.timetable;
  const work = workings[row.train]?.services ?? [];
  const label = labelOf(railway, row.train);
  const [first] = row.forecast?.calls ?? [];
  const begin = first === undefined ? work.length : work.indexOf(first.service);
  const ahead = work
    .slice(begin)
    .filter((service) => row.wishes?.cancelled.includes(service) !== true)
    .slice(0, SERVICES_AHEAD);
  const nameOf = (service: number): string => services[service]?.file.name ?? '';
  return ahead.flatMap((service, at) =>
    ahead.slice(at, at + 2).map((through): WishOption => {
      const names =
        service === through ? nameOf(service) : `${nameOf(service)} and ${nameOf(through)}`;
      return {
        text: names,
        command: { kind: 'cancel-services', train: row.train, service, through },
        what: `cancelling ${names} of ${label}`,
      };
    }),
  );
}
