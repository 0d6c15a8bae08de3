import { step, type Command, type Effect, type Input } from '@blockbell/railway';
import type { Choice, Happening, Whole } from './choices.js';
import type { Disturbance } from './scenario.js';
import type { SmallWorld } from './small-world/small-world.js';
import { tellReadings } from './small-world/tell.js';

/** What one choice did: what went into the engine, if anything, and what it wanted done. */
export interface Outcome {
  readonly input: Input | null;
  readonly effects: readonly Effect[];
}

/**
 * Lets one choice happen, changing the whole state in place. Null: it does not come about, for a command was refused; the state
 * is of no more use then.
 */
export function happen(small: SmallWorld, whole: Whole, { at, happening }: Choice): Outcome | null {
  small.advance(whole.truth, at);
  if (happening.kind === 'person') return firstAccepted(small, whole, at, happening.commands);
  const input = inputOf(small, whole, at, happening);
  if (input === null) return { input, effects: [] };
  const effects = feed(small, whole, input);
  return input.kind === 'command' && isRefused(effects) ? null : { input, effects };
}

function firstAccepted(
  small: SmallWorld,
  whole: Whole,
  at: number,
  commands: readonly Command[],
): Outcome | null {
  for (const command of commands) {
    const input = { at, kind: 'command', by: 'person', command } as const;
    const effects = feed(small, whole, input);
    if (!isRefused(effects)) return { input, effects };
  }
  return null;
}

function feed(small: SmallWorld, whole: Whole, input: Input): readonly Effect[] {
  const { effects } = step(small.world, whole.engine, input);
  for (const effect of effects) {
    if (effect.kind === 'device') small.obey(whole.truth, effect.command);
  }
  return effects;
}

const isRefused = (effects: readonly Effect[]): boolean =>
  effects.some((effect) => effect.kind === 'answer' && effect.refusal !== null);

/** Changes the truth, and says what the engine hears of it at once. */
function inputOf(
  small: SmallWorld,
  whole: Whole,
  at: number,
  happening: Exclude<Happening, { kind: 'person' }>,
): Input | null {
  const { truth } = whole;
  switch (happening.kind) {
    case 'deadline':
      return { at, kind: 'deadline' };
    case 'body':
      small.moveOn(truth, happening.train);
      return null;
    case 'message': {
      const [message] = truth.messages.splice(happening.message, 1);
      return { at, kind: 'device', event: message!.event };
    }
    case 'thrown':
      return arrive(small, whole, at, happening.element);
    case 'contact':
      truth.dropouts.splice(happening.dropout, 1);
      tellReadings(small, truth);
      return null;
    case 'pushed':
      small.push(truth, happening.train);
      return null;
    case 'disturbance':
      whole.disturbances--;
      return disturb(small, whole, at, happening.disturbance);
  }
}

function arrive(small: SmallWorld, { truth }: Whole, at: number, element: number): Input | null {
  const drive = truth.drives[element]!;
  drive.position = drive.moving!.to;
  drive.moving = null;
  if (!small.world.layout.elements[element]!.drive!.feedback) return null;
  return { at, kind: 'device', event: { kind: 'drive', element, position: drive.position } };
}

function disturb(
  small: SmallWorld,
  { truth }: Whole,
  at: number,
  disturbance: Disturbance,
): Input | null {
  switch (disturbance.kind) {
    case 'dropout': {
      const { section } = disturbance;
      const { holdOff, worstDelay } = small.world.layout.sections[section]!.detector;
      // Both messages of it come within the hold-off, whatever their delays.
      const until = at + holdOff - worstDelay.occupied - 1;
      truth.dropouts.push({ section, from: at + 1, until });
      tellReadings(small, truth);
      return null;
    }
    case 'stuck-throw':
      truth.drives[disturbance.element]!.moving = null;
      return null;
    case 'misread': {
      const { file } = small.world.stock.trains[disturbance.train]!.locomotives[0]!;
      const message = truth.messages[disturbance.message]!;
      if (message.event.kind !== 'report') throw new Error('only reports are misread');
      const event = { ...message.event, decoders: [file.address] };
      truth.messages[disturbance.message] = { ...message, event };
      return null;
    }
    case 'command':
      return { at, kind: 'command', by: 'operator', command: disturbance.command };
    case 'restart':
      return { at, kind: 'started-again' };
  }
}
