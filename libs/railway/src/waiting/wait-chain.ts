import { sentence } from '../session/explain.js';
import type { EngineState } from '../session/state.js';
import type { WaitReason } from '../session/wait-reason.js';
import type { World } from '../session/world.js';
import { lateText } from './late-text.js';
import { NOBODY, waitedFor } from './waited-for.js';

/** One train of a chain of waits. */
export interface WaitLink {
  readonly train: number;
  /** What it waits for; null for the last of a chain that does not wait: it runs or is about to go. */
  readonly reason: WaitReason | null;
  /** The train whose moving on would end the wait, the next of the chain; −1: none. */
  readonly by: number;
  /** One sentence that begins with the train's name. */
  readonly text: string;
}

/**
 * What is at the end of a chain of waits: the timetable (a booked time, a dwell), a person (a hold, a drive by hand, track closed for
 * work, an answer that is asked for), the track (a fault, something that stands there), the working out of what is safe,
 * a train on its way, a session that does not run; or nothing but the waits themselves, in a circle.
 */
export type RootKind =
  'timetable' | 'person' | 'track' | 'safety' | 'running' | 'session' | 'circle';

/** Why a train waits, to the root. */
export interface WaitChain {
  /** The train asked about first, each next one the train that the one before waits for. */
  readonly links: readonly WaitLink[];
  readonly root: {
    readonly kind: RootKind;
    /** The last train of the chain; of a circle the one that closes it. */
    readonly train: number;
  };
  /** The trains that wait for one another, in order; empty where they don't. */
  readonly circle: readonly number[];
}

/** The chain of causes behind a train's wait; null when it does not wait. Only reads. */
export function waitChain(world: World, state: EngineState, index: number): WaitChain | null {
  if ((state.trains[index]?.wait ?? null) === null) return null;
  const links: WaitLink[] = [];
  for (let train = index; ;) {
    const known = links.findIndex((link) => link.train === train);
    if (known >= 0) {
      const circle = links.slice(known).map((link) => link.train);
      return { links, root: { kind: 'circle', train }, circle };
    }
    const link = linkOf(world, state, train);
    links.push(link);
    if (link.by === NOBODY) {
      return { links, root: { kind: rootOf(link.reason), train }, circle: [] };
    }
    train = link.by;
  }
}

function linkOf(world: World, state: EngineState, train: number): WaitLink {
  const { wait: reason, activity } = state.trains[train]!;
  const name = labelOf(world, train);
  if (reason === null) {
    const doing = activity.kind === 'moving' ? 'is moving' : 'is about to go';
    const late = lateText(world, state.trains[train]!.delay);
    return { train, reason, by: NOBODY, text: `${name} ${doing}${late}` };
  }
  const by = waitedFor({ world, state }, train, reason);
  const said = sentence(world, reason);
  return { train, reason, by, text: `${name} waits: ${said}${namedIn(world, reason, by)}` };
}

/** The train waited for, where the reason itself does not name it. */
function namedIn(world: World, reason: WaitReason, by: number): string {
  if (by === NOBODY) return '';
  switch (reason.kind) {
    case 'connection':
    case 'section-occupied':
      return ` (${labelOf(world, by)})`;
    case 'would-lock':
      return `; ${labelOf(world, by)} must go first`;
    default:
      return '';
  }
}

function rootOf(reason: WaitReason | null): RootKind {
  switch (reason?.kind) {
    case undefined:
      return 'running';
    case 'booked':
    case 'dwell':
    case 'connection':
    case 'finished':
    case 'not-asked-for':
      return 'timetable';
    case 'departures-held':
    case 'held-by-person':
    case 'in-hand':
    case 'identity':
    case 'possession':
    case 'not-confirmed':
    case 'yard-full':
      return 'person';
    case 'not-running':
      return 'session';
    case 'would-lock':
    case 'searching':
    case 'search-exhausted':
    case 'gives-way':
    case 'plan-order':
      return 'safety';
    default:
      return 'track';
  }
}

/**
 * The chain as sentences, one a train: the train's own reason first, each train that is waited for with its own, down to the
 * root. A circle of waits is named as one. Empty when the train does not wait.
 */
export function explainWait(world: World, state: EngineState, index: number): string[] {
  const chain = waitChain(world, state, index);
  return chain === null ? [] : linesOf(world, chain).map((line) => `${line}.`);
}

/** The chain as one sentence: `21 waits: D5 on its way is held for 14; 14 waits: …; 33 is moving`, without a full stop. */
export const chainSentence = (world: World, chain: WaitChain): string =>
  linesOf(world, chain).join('; ');

function linesOf(world: World, { links, circle }: WaitChain): string[] {
  const lines = links.map(({ text }) => text);
  if (circle.length === 0) return lines;
  const names = circle.map((train) => labelOf(world, train));
  return [...lines, `${listed(names)} wait for one another in a circle`];
}

const listed = (names: readonly string[]): string =>
  `${names.slice(0, -1).join(', ')} and ${names.at(-1)!}`;

const labelOf = (world: World, train: number): string => world.stock.trains[train]!.file.label;
