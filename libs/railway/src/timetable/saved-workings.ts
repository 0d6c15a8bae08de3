import { useWork, type World } from '../session/world.js';
import type { AddedWork } from './added-work.js';
import type { Finding } from './working-graph.js';

/**
 * By train, how the nodes of its working came by their numbers. Numbers are given as nodes are found and stand in the
 * engine's state, so whoever stores a state must store this with it. Plain data.
 */
export type SavedWorkings = readonly (readonly Finding[])[];

export const saveWorkings = (world: World): SavedWorkings =>
  world.graphs.map(({ findings }) => findings);

/** Gives the nodes of a world that was just compiled the numbers they had in another of the same files, with the same work added. */
export function restoreWorkings(world: World, added: AddedWork, saved: SavedWorkings): void {
  useWork(world, added);
  world.graphs.forEach((graph, train) => graph.findAgain(saved[train] ?? []));
}
