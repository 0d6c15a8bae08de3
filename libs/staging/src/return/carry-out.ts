import { blockOf, type Command, type EngineState, type World } from '@blockbell/railway';
import type { ReturnMove, ReturnPlan } from './return-plan.js';

/** How long a move that is refused is asked for again, physical ms: track behind the train before may still be freed. */
export const PATIENCE = 60_000;

export type MoveStage = 'to-come' | 'under-way' | 'made' | 'failed' | 'given-up';

/** How far one move has come. */
export interface MoveProgress {
  stage: MoveStage;
  /** Commands of it that the engine accepted. */
  given: number;
  /** Since when the next command is refused, physical ms; null: it is not. */
  refusedSince: number | null;
  /** Why the engine refuses it, or refused it at last. */
  why: string | null;
}

/** A return that is being carried out; plain data, changed in place. */
export interface ReturnRun {
  readonly plan: ReturnPlan;
  readonly progress: readonly MoveProgress[];
  /** Whether a person stopped it: no more is asked for, trains under way come to the end of what they have. */
  stopped: boolean;
}

export const beginReturn = (plan: ReturnPlan): ReturnRun => ({
  plan,
  progress: plan.moves.map(() => ({ stage: 'to-come', given: 0, refusedSince: null, why: null })),
  stopped: false,
});

/** A command that is due, for the move at its place in the plan. */
export interface DueCommand {
  readonly move: number;
  readonly command: Command;
}

/** What a move consists of, in the order in which it is asked for. */
export function commandsOf({ layout }: World, move: ReturnMove): Command[] {
  const { train, turns, routes } = move;
  return [
    ...(turns ? [{ kind: 'turn-round', train } as const] : []),
    ...routes.map((route) => {
      const block = blockOf(layout.routes[route]!.to);
      return { kind: 'set-route', train, block, route } as const;
    }),
  ];
}

/**
 * Notes what has been made, and tells the commands that are to be given now, at most one of each move: of every move whose predecessors are
 * made. Give each, tell {@link answered}, and ask again when something was accepted. Nothing while the session does not run.
 */
export function dueCommands(world: World, state: EngineState, run: ReturnRun): DueCommand[] {
  const { plan, progress } = run;
  plan.moves.forEach((move, at) => note(world, state, move, run, at));
  for (const [at, { after }] of plan.moves.entries()) {
    const isLost = after.some((it) => ['failed', 'given-up'].includes(progress[it]!.stage));
    if (progress[at]!.stage === 'to-come' && (isLost || run.stopped))
      progress[at]!.stage = 'given-up';
  }
  if (state.session.phase.kind !== 'running' || run.stopped) return [];
  return plan.moves.flatMap((move, at): DueCommand[] => {
    const { stage, given } = progress[at]!;
    if (stage !== 'to-come' && stage !== 'under-way') return [];
    if (!move.after.every((it) => progress[it]!.stage === 'made')) return [];
    const command = commandsOf(world, move)[given];
    return command === undefined ? [] : [{ move: at, command }];
  });
}

/** Notes the engine's answer to a command that was due: null, or why it was refused. */
export function answered(run: ReturnRun, move: number, refused: string | null, now: number): void {
  const progress = run.progress[move]!;
  if (refused === null) {
    Object.assign(progress, {
      stage: 'under-way',
      given: progress.given + 1,
      refusedSince: null,
      why: null,
    });
    return;
  }
  progress.why = refused;
  progress.refusedSince ??= now;
  if (now - progress.refusedSince >= PATIENCE) progress.stage = 'failed';
}

/** Whether nothing more will happen by itself. */
export const isOver = ({ progress, stopped }: ReturnRun): boolean =>
  progress.every(({ stage }) => stage !== 'under-way' && (stage !== 'to-come' || stopped));

function note(
  world: World,
  state: EngineState,
  move: ReturnMove,
  run: ReturnRun,
  at: number,
): void {
  const progress = run.progress[at]!;
  if (progress.stage !== 'under-way') return;
  const { activity, path, edge, reckoning } = state.trains[move.train]!;
  const last = path.at(-1);
  if (activity.kind === 'absent' || last === undefined) {
    Object.assign(progress, { stage: 'failed', why: 'It was taken off the layout.' });
    return;
  }
  if (run.stopped && activity.kind === 'halted') progress.stage = 'given-up';
  const isAtRest =
    activity.kind === 'standing' && reckoning.nominal.target === 0 && edge >= last.start;
  if (!isAtRest) return;
  if (progress.given < commandsOf(world, move).length) {
    if (run.stopped) progress.stage = 'given-up';
  } else if (last.heading === move.to) progress.stage = 'made';
  else Object.assign(progress, { stage: 'failed', why: 'It was sent elsewhere meanwhile.' });
}
