import type { DeviceEvent, Input } from '@blockbell/railway';
import { choicesOf, type Choice, type Whole } from './choices.js';
import type { Origins } from './explore.js';
import { happen } from './happen.js';
import type { Bounds } from './scenario.js';
import type { SmallWorld } from './small-world/small-world.js';

/** The way to a state, and choices made after it, as lines to read: when, what happened, what the engine sent. */
export function tellPath(
  small: SmallWorld,
  starts: readonly Whole[],
  { from, choices }: Origins,
  bounds: Bounds,
  to: number,
  then: readonly number[],
): string[] {
  const picks = [...then];
  let at = to;
  for (; from[at]! >= 0; at = from[at]!) picks.unshift(...choices[at]!);
  const whole = JSON.parse(JSON.stringify(starts[choices[at]![0]!]!)) as Whole;
  const paces = whole.truth.bodies.map((body, train) => `${label(small, train)} ${body?.pace}`);
  const lines = [`Trains run at one end of their spread: ${paces.join(', ')}.`];
  for (const pick of picks) lines.push(tell(small, whole, choicesOf(small, whole, bounds)[pick]!));
  return lines;
}

function tell(small: SmallWorld, whole: Whole, choice: Choice): string {
  const words = wordsOf(small, whole, choice);
  const outcome = happen(small, whole, choice);
  const sent = (outcome?.effects ?? []).flatMap((effect) => {
    if (effect.kind === 'log') return [effect.text];
    if (effect.kind !== 'device' || effect.command.kind === 'set-aspect') return [];
    const { command } = effect;
    if (command.kind === 'set-speed') {
      return [`decoder ${command.address.number} to step ${command.step}`];
    }
    if (command.kind === 'set-drive') {
      return [`${small.world.layout.elements[command.element]!.id} to ${command.position}`];
    }
    return [command.kind];
  });
  const person = choice.happening.kind === 'person' ? inputWords(small, outcome?.input) : '';
  const what = `${choice.at} ms: ${words}${person}`;
  return sent.length === 0 ? what : `${what} → ${sent.join('; ')}`;
}

function wordsOf(small: SmallWorld, { truth }: Whole, { happening }: Choice): string {
  const { layout } = small.world;
  switch (happening.kind) {
    case 'deadline':
      return 'the engine is woken';
    case 'body':
      return `${label(small, happening.train)} runs on`;
    case 'message':
      return eventWords(small, truth.messages[happening.message]!.event);
    case 'thrown': {
      const to = truth.drives[happening.element]!.moving!.to;
      return `${layout.elements[happening.element]!.id} arrives at ${to}`;
    }
    case 'contact':
      return `contact comes back in ${layout.sections[truth.dropouts[happening.dropout]!.section]!.id}`;
    case 'person':
      return 'the person: ';
    case 'pushed':
      return `${label(small, happening.train)} is pushed up to its stop mark by hand`;
    case 'disturbance':
      return disturbanceWords(small, truth, happening.disturbance);
  }
}

function disturbanceWords(
  small: SmallWorld,
  truth: Whole['truth'],
  disturbance: Extract<Choice['happening'], { kind: 'disturbance' }>['disturbance'],
): string {
  const { layout } = small.world;
  switch (disturbance.kind) {
    case 'dropout':
      return `contact is lost in ${layout.sections[disturbance.section]!.id}`;
    case 'stuck-throw':
      return `${layout.elements[disturbance.element]!.id} sticks`;
    case 'misread':
      return `the decoder of ${label(small, disturbance.train)} is read instead: ${eventWords(small, truth.messages[disturbance.message]!.event)}`;
    case 'command':
      return `an operator: ${inputWords(small, { at: 0, kind: 'command', by: '', command: disturbance.command })}`;
    case 'restart':
      return 'the program is started again';
  }
}

function eventWords({ world: { layout } }: SmallWorld, event: DeviceEvent): string {
  switch (event.kind) {
    case 'section':
      return `section ${layout.sections[event.section]!.id} ${event.occupied ? 'occupied' : 'free'}`;
    case 'report':
      return `section ${layout.sections[event.section]!.id} reads ${event.decoders.map(({ number }) => number).join(', ')}`;
    case 'drive':
      return `${layout.elements[event.element]!.id} proven ${event.position}`;
    case 'power':
      return `district ${layout.districts[event.district]!} ${event.state}`;
    case 'bus':
      return `bus ${event.bus} ${event.alive ? 'lives' : 'is silent'}`;
  }
}

function inputWords(small: SmallWorld, input: Input | null | undefined): string {
  if (input?.kind !== 'command') return 'nothing';
  const { command } = input;
  const { layout } = small.world;
  const words = command.kind.replaceAll('-', ' ');
  if ('train' in command) return `${words} ${label(small, command.train)}`;
  if ('element' in command) return `${words} ${layout.elements[command.element]!.id}`;
  return 'block' in command ? `${words} ${layout.elements[command.block]!.id}` : words;
}

const label = ({ world }: SmallWorld, train: number): string =>
  world.stock.trains[train]!.file.label;
