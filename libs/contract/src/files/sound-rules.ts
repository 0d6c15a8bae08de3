import type {
  StagingRulesFile,
  StationId,
  TrackCondition,
  TrainCondition,
  YardRulesFile,
} from '@blockbell/railway';
import { z } from 'zod';
import {
  departureOrder,
  fallback,
  trackCondition,
  trackOrder,
  trainCondition,
} from './staging-rules-schema.js';

/** What stands for the id of a yard that has none. */
export const NO_YARD = '?' as StationId;

/**
 * The rules in a file of another shape, as far as they have theirs: what has not is left out, or stands there as something
 * harmless, so that the rest keeps its place. Only to look for faults in; `layout`: id of the layout at hand, if there is one.
 */
export function soundRules(json: unknown, layout: string | null): StagingRulesFile {
  return {
    kind: 'blockbell-staging-rules',
    version: 1,
    id: textOr(fieldOf(json, 'id'), 'rules'),
    name: '',
    layout: textOr(fieldOf(json, 'layout'), layout ?? ''),
    yards: listOf(fieldOf(json, 'yards')).map(soundYard),
  };
}

function soundYard(json: unknown): YardRulesFile {
  const departures = fieldOf(json, 'departures');
  return {
    yard: textOr(fieldOf(json, 'yard'), NO_YARD) as StationId,
    arrivals: listOf(fieldOf(json, 'arrivals')).map((rule) => ({
      ...whenOf(rule),
      ...onlyOf(rule),
      order: parsed(trackOrder, fieldOf(rule, 'order')) ?? [],
    })),
    nothingFits: listOf(fieldOf(json, 'nothingFits')).map(
      (each) =>
        parsed(fallback, each) ?? {
          do: 'take' as const,
          ...onlyOf(each),
          order: parsed(trackOrder, fieldOf(each, 'order')) ?? [],
        },
    ),
    departures: {
      order: parsed(departureOrder, fieldOf(departures, 'order')) ?? [],
      requests: listOf(fieldOf(departures, 'requests')).map((each) => ({
        ...whenOf(each),
        fewerThan: parsed(z.int(), fieldOf(each, 'fewerThan')) ?? 1,
        minutes: parsed(z.int(), fieldOf(each, 'minutes')) ?? 1,
      })),
    },
    moveUp: 'never',
  };
}

function whenOf(rule: unknown): { readonly when?: TrainCondition } {
  const when = soundCondition(trainCondition, { is: 'staying' }, fieldOf(rule, 'when'));
  return when === null ? {} : { when };
}

function onlyOf(rule: unknown): { readonly only?: TrackCondition } {
  const only = soundCondition(trackCondition, { is: 'empty' }, fieldOf(rule, 'only'));
  return only === null ? {} : { only };
}

type Condition = TrainCondition | TrackCondition;

/** A condition; of a group, what has its shape, with `harmless` in the place of the rest. Null: nothing of it has. */
function soundCondition<C extends Condition>(
  schema: z.ZodType<C>,
  harmless: C,
  json: unknown,
): C | null {
  const whole = parsed(schema, json);
  if (whole !== null) return whole;
  const [is, of] = [fieldOf(json, 'is'), fieldOf(json, 'of')];
  const inner = (each: unknown): C => soundCondition(schema, harmless, each) ?? harmless;
  if (is === 'not') return { is, of: inner(of) } as unknown as C;
  return is === 'all' || is === 'any'
    ? ({ is, of: Array.isArray(of) ? of.map(inner) : [harmless] } as unknown as C)
    : null;
}

function parsed<T>(schema: z.ZodType<T>, json: unknown): T | null {
  const read = schema.safeParse(json);
  return read.success ? read.data : null;
}

const fieldOf = (json: unknown, name: string): unknown =>
  typeof json === 'object' && json !== null && Object.hasOwn(json, name)
    ? (json as Readonly<Record<string, unknown>>)[name]
    : undefined;

const listOf = (json: unknown): readonly unknown[] => (Array.isArray(json) ? json : []);

const textOr = (json: unknown, otherwise: string): string =>
  typeof json === 'string' ? json : otherwise;
