/**
 * A train-scheduling problem in the published exchange format: every train is a graph of operations, of which it
 * runs one path from the first to the last. All numbers are integers in the problem's own unit of time.
 */
export interface Problem {
  readonly trains: readonly Train[];
  readonly objective: readonly Component[];
}

/** Operations in topological order; the first is the only entry, the last the only exit. */
export type Train = readonly Operation[];

export interface Operation {
  /** Earliest start. */
  readonly startLb: number;
  /** Latest start; `Infinity` when there is none. */
  readonly startUb: number;
  /** Least time between this operation's start and the start of the next one. */
  readonly minDuration: number;
  readonly resources: readonly ResourceUse[];
  /** Indices, within the train, of the operations that may follow; empty for the exit only. */
  readonly successors: readonly number[];
}

/** A resource held from the operation's start to the start of the train's next one. */
export interface ResourceUse {
  readonly resource: string;
  /** Time that has to pass after the end of the use before another train may start to use the resource. */
  readonly releaseTime: number;
}

export type Component = DelayComponent | MakespanComponent;

/**
 * Costs `coeff · max(0, t − threshold) + increment · [t ≥ threshold]` for an operation that starts at `t`, and
 * nothing when the train's path leaves the operation out.
 */
export interface DelayComponent {
  readonly type: 'op_delay';
  readonly train: number;
  readonly operation: number;
  readonly threshold: number;
  readonly coeff: number;
  readonly increment: number;
}

/** Costs `coeff · t`, where `t` is the latest start of any train's last operation. */
export interface MakespanComponent {
  readonly type: 'makespan';
  readonly coeff: number;
}

/** One answer to a problem: who starts what, when, and in which order where times are equal. */
export interface Plan {
  readonly objectiveValue: number;
  /** In the order in which they happen; times never decrease. */
  readonly events: readonly PlanEvent[];
}

/** A train starts an operation, and by that ends its operation before. */
export interface PlanEvent {
  readonly time: number;
  readonly train: number;
  readonly operation: number;
}

/** Cost of one component for an operation that starts at `time`. */
export function delayCost(component: DelayComponent, time: number): number {
  const { threshold, coeff, increment } = component;
  return time < threshold ? 0 : coeff * (time - threshold) + increment;
}
