import type { Writer } from '../session/writer.js';
import { useKey, type StagingState } from './staging-state.js';

/** A track that rules gave a train for a stop of its work. */
export interface Put {
  readonly station: number;
  readonly stop: number;
  readonly track: number;
  readonly why: string;
}

/**
 * Notes the track that a train takes by the rules. Each arrival counts once, however many ways the train is given on its way
 * there; one that is sent elsewhere meanwhile has not used the track before.
 */
export function notePut(w: Writer, index: number, { station, stop, track, why }: Put): void {
  const { staging } = w.state;
  const before = staging.choices[index] ?? null;
  if (before?.stop === stop && before.station === station && before.track === track) return;
  takeBack(staging, index, stop);
  staging.visits++;
  const key = useKey(station, track);
  const { visits: visit } = staging;
  const usedBefore = staging.lastUsed[key] ?? 0;
  staging.lastUsed[key] = visit;
  staging.choices[index] = { station, stop, track, why, visit, usedBefore };
  w.changes.trains.add(index);
  w.changes.session = true;
  const { label } = w.world.stock.trains[index]!.file;
  const { file, tracks } = w.world.layout.stations[station]!;
  w.log(`${label} goes to track ${tracks[track]!.name} of ${file.name}; ${why}`, index);
}

/** Notes that a person chose the track of a train. */
export function noteOverruled(w: Writer, index: number, station: number, stop: number): void {
  const { staging } = w.state;
  takeBack(staging, index, stop);
  const why = 'A person chose this track.';
  staging.choices[index] = { station, stop, track: -1, why, visit: 0, usedBefore: 0 };
}

/** The track that a train was to take at a stop gets it after all not. */
function takeBack({ choices, lastUsed }: StagingState, index: number, stop: number): void {
  const choice = choices[index] ?? null;
  if (choice === null || choice.stop !== stop || choice.track < 0) return;
  const key = useKey(choice.station, choice.track);
  if (lastUsed[key] !== choice.visit) return;
  if (choice.usedBefore > 0) lastUsed[key] = choice.usedBefore;
  else delete lastUsed[key];
}
