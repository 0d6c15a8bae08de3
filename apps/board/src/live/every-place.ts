import { withPlaces } from '@blockbell/drawing';
import type { Places } from '@blockbell/drawing';
import type { LayoutFile } from '@blockbell/railway';

/** The layout with a place for every element: those of its file, those given, and where none are given, found here. */
export async function withEveryPlace(file: LayoutFile, given?: Places): Promise<LayoutFile> {
  if (given) return withPlaces(file, given);
  if (file.elements.every(({ draw }) => draw)) return file;
  // Most pages never need it: the server keeps the places of the session that runs.
  const { missingPlaces } = await import('./find-places.js');
  return withPlaces(file, missingPlaces(file));
}
