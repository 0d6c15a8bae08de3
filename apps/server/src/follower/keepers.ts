import type { FollowerStart } from './journal-follower.js';
import { SnapshotKeeper, type KeeperObserver, type SnapshotSink } from './snapshot-keeper.js';

/** Begins to follow a session; null where there are no threads for it. */
export type MakeKeeper = (
  start: FollowerStart,
  engine: string,
  sink: SnapshotSink,
  observer: KeeperObserver,
) => SnapshotKeeper | null;

/** Token of {@link MakeKeeper} for injection. */
export const KEEPERS = Symbol('keepers');

/** A thread runs compiled code only: whoever runs the server from its sources has no snapshots. */
const IS_COMPILED = import.meta.url.endsWith('.js');

export const keepersInThreads: MakeKeeper = (start, engine, sink, observer) =>
  IS_COMPILED ? new SnapshotKeeper(start, engine, sink, observer) : null;
