import { fault, type Fault } from '../faults/fault.js';
import { checkPositive, checkRange, checkTwice } from '../faults/numbers.js';
import { ID_PATTERN } from '../ids.js';
import type { StationFile } from '../layout/layout-file.js';
import type { Layout } from '../layout/layout.js';
import type { Stock } from '../stock/train.js';
import { checkTrackCondition, checkTrainCondition, type Known } from './check-conditions.js';
import type {
  DepartureOrder,
  Fallback,
  RequestRule,
  StagingRulesFile,
  TrackOrder,
  YardRulesFile,
} from './staging-rules-file.js';

const SEEDS = 2_147_483_647;
/** A day of the fast clock. */
const LONGEST = 1440;

/**
 * Everything that is wrong in a file of staging rules: in itself, and, as far as they are there, against the layout and the
 * stock that it is for. Rules without a fault can be run, whatever they say.
 */
export function validateStagingRules(
  file: StagingRulesFile,
  layout: Layout | null = null,
  stock: Stock | null = null,
): Fault[] {
  return [
    ...(ID_PATTERN.test(file.id)
      ? []
      : [fault('id', `"${file.id}" is no valid id`, 'begin with a letter')]),
    ...(layout === null || layout.file.id === file.layout
      ? []
      : [
          fault(
            'layout',
            `the rules are for the layout ${file.layout}, this is ${layout.file.id}`,
            'choose rules for this layout, or change this name',
          ),
        ]),
    ...checkTwice(
      file.yards,
      ({ yard }) => yard,
      (yard, index) => `yards[${index}] ${yard.yard}`,
      'yard',
      'keep all rules of a yard together',
    ),
    ...file.yards.flatMap((yard, index) =>
      checkYard(yard, `yards[${index}] ${yard.yard}`, layout, stock),
    ),
  ];
}

function checkYard(
  rules: YardRulesFile,
  place: string,
  layout: Layout | null,
  stock: Stock | null,
): Fault[] {
  const station = layout?.file.stations.find(({ id }) => id === rules.yard) ?? null;
  const known: Known = {
    tracks: station === null ? null : new Set(station.tracks.map(({ id }) => id)),
    trains: stock === null ? null : stock.trainByName,
  };
  return [
    ...(layout === null ? [] : checkStation(station, rules.yard, place)),
    ...rules.arrivals.flatMap(({ when, only, order }, index) => {
      const here = `${place}.arrivals[${index}]`;
      return [
        ...(when === undefined ? [] : checkTrainCondition(when, `${here}.when`, known)),
        ...(only === undefined ? [] : checkTrackCondition(only, `${here}.only`, known)),
        ...checkOrders(order, `${here}.order`),
      ];
    }),
    ...rules.nothingFits.flatMap((fallback, index) =>
      checkFallback(fallback, `${place}.nothingFits[${index}]`, known),
    ),
    ...checkOverflows(rules, place, layout),
    ...checkUnreached(rules.nothingFits, `${place}.nothingFits`),
    ...checkOrders(rules.departures.order, `${place}.departures.order`),
    ...rules.departures.requests.flatMap((request, index) =>
      checkRequest(request, `${place}.departures.requests[${index}]`, known),
    ),
  ];
}

function checkStation(station: StationFile | null, id: string, place: string): Fault[] {
  if (station === null)
    return [fault(place, `there is no station ${id}`, 'name a staging yard of the layout')];
  return station.kind === 'staging-yard'
    ? []
    : [fault(place, `${id} is no staging yard`, 'name a staging yard of the layout')];
}

function checkFallback(fallback: Fallback, place: string, known: Known): Fault[] {
  switch (fallback.do) {
    case 'ask':
    case 'overflow':
      return [];
    case 'hold':
      return checkMinutes(fallback.minutes, `${place}.minutes`);
    case 'take':
      return [
        ...(fallback.only === undefined
          ? []
          : checkTrackCondition(fallback.only, `${place}.only`, known)),
        ...checkOrders(fallback.order, `${place}.order`),
      ];
  }
}

/** Each names another staging yard, once. */
function checkOverflows(
  { yard, nothingFits }: YardRulesFile,
  place: string,
  layout: Layout | null,
): Fault[] {
  const at = (index: number): string => `${place}.nothingFits[${index}].to`;
  const stations = layout?.file.stations;
  return nothingFits.flatMap((fallback, index) => {
    if (fallback.do !== 'overflow') return [];
    const { to } = fallback;
    if (to === yard)
      return [fault(at(index), 'a yard can’t be its own overflow', 'name another staging yard')];
    if (nothingFits.slice(0, index).some((it) => it.do === 'overflow' && it.to === to))
      return [fault(at(index), `${to} is named before`, 'name it once, or name another yard')];
    return stations === undefined
      ? []
      : checkStation(stations.find(({ id }) => id === to) ?? null, to, at(index));
  });
}

/** Nothing comes after asking. */
function checkUnreached(fallbacks: readonly Fallback[], place: string): Fault[] {
  const asks = fallbacks.findIndex(({ do: what }) => what === 'ask');
  return asks < 0 || asks === fallbacks.length - 1
    ? []
    : [
        fault(
          `${place}[${asks + 1}]`,
          'it is never reached, for a person is asked before',
          'remove it, or put it before the asking',
        ),
      ];
}

const checkRequest = (
  { when, fewerThan, minutes }: RequestRule,
  place: string,
  known: Known,
): Fault[] => [
  ...(when === undefined ? [] : checkTrainCondition(when, `${place}.when`, known)),
  ...checkRange(`${place}.fewerThan`, 'the number of trains', fewerThan, 1, 1000),
  ...checkMinutes(minutes, `${place}.minutes`),
];

const checkMinutes = (minutes: number, place: string): Fault[] => [
  ...checkPositive(place, 'the time', minutes, 'minutes'),
  ...(minutes > LONGEST
    ? [fault(place, `the time is ${minutes} minutes`, `enter at most ${LONGEST}`)]
    : []),
];

function checkOrders(orders: readonly (TrackOrder | DepartureOrder)[], place: string): Fault[] {
  return [
    ...checkTwice(
      orders,
      ({ by }) => by,
      (_, index) => `${place}[${index}]`,
      'order',
      'name it once: where it first leaves two alike, it does so again',
    ),
    ...orders.flatMap((order, index) => {
      if (order.by === 'random')
        return checkRange(`${place}[${index}].seed`, 'the seed', order.seed, 0, SEEDS);
      if (order.by !== 'class') return [];
      return order.of.length === 0
        ? [fault(`${place}[${index}].of`, 'no class is named', 'name a class, or remove the order')]
        : checkTwice(
            order.of,
            (it) => it,
            (_, at) => `${place}[${index}].of[${at}]`,
            'class',
            'name a class once',
          );
    }),
  ];
}
