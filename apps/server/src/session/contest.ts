import type { CommandMessage } from '@blockbell/contract';
import {
  refusal,
  type Command,
  type Effect,
  type Input,
  type Refusal,
  type World,
} from '@blockbell/railway';
import { deedWords } from './deed-words.js';
import type { WallClock } from './paced-clock.js';

/** The picture by which a person gave a command. */
export type Seen = NonNullable<CommandMessage['seen']>;

type Kind = Command['kind'];

/** Something a person did to a train, a block or the session. */
interface Deed {
  readonly by: string;
  readonly words: string;
  /** Number of the first message that shows it. */
  readonly revision: number;
  /** Wall-clock ms. */
  readonly at: number;
}

/** What would undo, unseen, what another person has just done. Whatever stops a train is never kept waiting by this. */
const CONTESTED: ReadonlySet<Kind> = new Set([
  'set-route',
  'give-back-route',
  'turn-round',
  'take-in-hand',
  'hold-train',
  'release-train',
  'declare-identity',
  'confirm-place',
  'confirm-absent',
  'confirm-clear',
  'close-track',
  'reopen-track',
  'choose-track',
  'go-first',
  'cancel-services',
  'restore-services',
  'add-service',
]);

/** Done to the session as a whole. */
const OVERALL: ReadonlySet<Kind> = new Set([
  'power-up',
  'start',
  'pause',
  'resume',
  'end-session',
  'stop-all',
  'cut-power',
]);

/** The deeds that a refusal of this code can come from: the latest is named with it. */
const CAUSES: Readonly<Record<string, readonly Kind[]>> = {
  'element-held': ['set-route'],
  'section-claimed': ['set-route'],
  'in-hand': ['take-in-hand'],
  'not-in-hand': ['take-in-hand'],
  possession: ['close-track'],
  closed: ['close-track'],
  'not-closed': ['reopen-track'],
  wished: ['go-first'],
  'no-wish': ['choose-track', 'go-first'],
  cancelled: ['cancel-services'],
  'not-cancelled': ['restore-services'],
  'nothing-to-give-back': ['give-back-route'],
  'not-halted': ['release-train'],
  'not-strange': ['declare-identity', 'confirm-clear', 'confirm-place'],
  'not-running': ['pause', 'stop-all', 'cut-power', 'end-session'],
  'power-is-on': ['power-up'],
  'wrong-phase': [...OVERALL],
  ended: ['end-session'],
};

/** Deeds further back explain nothing any more, wall-clock ms. */
const REMEMBERED = 10 * 60_000;

/**
 * Settles who was first where several people run one session. Commands about the same thing are taken one after another; one
 * given by a picture that doesn't show yet what another person did to the same train or block is refused, naming who was
 * first; and a refusal of the engine is told with the person whose deed it comes from.
 */
export class Contest {
  /** By thing, then by kind of deed. */
  private readonly deeds = new Map<string, Map<Kind, Deed>>();
  private last: Promise<unknown> = Promise.resolve();

  constructor(
    private readonly world: World,
    private readonly epoch: string,
    private readonly wall: WallClock,
  ) {}

  /** Carries a command out by `run`, or says who came first. */
  give(
    by: string,
    command: Command,
    seen: Seen | undefined,
    run: () => Promise<Refusal | null>,
  ): Promise<Refusal | null> {
    if (!isContested(command)) return run().then((refused) => this.credited(command, refused));
    const answer = this.last.then(async () => {
      const beaten = seen === undefined ? null : this.beaten(by, command, seen);
      return beaten ?? this.credited(command, await run());
    });
    this.last = answer;
    return answer;
  }

  /** Remembers what was done, in the step in which it was. */
  note(input: Input, effects: readonly Effect[], revision: number): void {
    if (input.kind !== 'command') return;
    const { by, command } = input;
    if (!CONTESTED.has(command.kind) && !OVERALL.has(command.kind)) return;
    const answer = effects.find((effect) => effect.kind === 'answer');
    if (answer === undefined || answer.refusal !== null) return;
    const deed = { by, words: deedWords(this.world, command), revision, at: this.wall() };
    for (const thing of thingsOf(command)) {
      const done = this.deeds.get(thing) ?? new Map<Kind, Deed>();
      this.deeds.set(thing, done.set(command.kind, deed));
    }
  }

  private beaten(by: string, command: Command, seen: Seen): Refusal | null {
    if (seen.epoch !== this.epoch)
      return refusal('another-session', 'Another session runs now; look at it first.');
    const unseen = thingsOf(command)
      .flatMap((thing) => [...(this.deeds.get(thing)?.values() ?? [])])
      .filter((deed) => deed.by !== by && deed.revision > seen.revision);
    const first = latest(unseen);
    if (first === null) return null;
    return refusal('too-late', `${this.told(first)}, before your command came; look again.`);
  }

  /** The engine knows no people; who did what stands in its way is added here. */
  private credited(command: Command, refused: Refusal | null): Refusal | null {
    if (refused === null) return null;
    const { code, text, train } = refused;
    const things = train === undefined ? [...thingsOf(command), SESSION] : [`train ${train}`];
    const causes = CAUSES[code] ?? [];
    const done = things.flatMap((thing) =>
      causes.flatMap((kind) => this.deeds.get(thing)?.get(kind) ?? []),
    );
    const cause = latest(done.filter(({ at }) => this.wall() - at < REMEMBERED));
    return refusal(code, cause === null ? text : `${text} ${this.told(cause)}.`);
  }

  private told({ by, words, at }: Deed): string {
    return `${by} ${words} ${ago(this.wall() - at)}`;
  }
}

const SESSION = 'session';

/** Holding a train is a way of stopping it. */
const isContested = (command: Command): boolean =>
  CONTESTED.has(command.kind) && !(command.kind === 'hold-train' && command.hold);

function thingsOf(command: Command): string[] {
  if (OVERALL.has(command.kind)) return [SESSION];
  return [
    ...('train' in command ? [`train ${command.train}`] : []),
    ...('before' in command ? [`train ${command.before}`] : []),
    ...('block' in command ? [`block ${command.block}`] : []),
    ...('element' in command ? [`block ${command.element}`] : []),
  ];
}

const latest = (deeds: readonly Deed[]): Deed | null =>
  deeds.reduce<Deed | null>(
    (newest, deed) => (newest === null || deed.revision > newest.revision ? deed : newest),
    null,
  );

function ago(ms: number): string {
  const seconds = Math.round(ms / 1000);
  if (seconds < 10) return 'a moment ago';
  if (seconds < 90) return `${seconds} seconds ago`;
  return `${Math.round(seconds / 60)} minutes ago`;
}
