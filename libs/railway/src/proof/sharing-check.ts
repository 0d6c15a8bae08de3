import type { LayoutFile } from '../layout/layout-file.js';
import { blockOf, headingOf, type Layout } from '../layout/layout.js';
import type { ProofCheck } from './report.js';
import type { ProvenRoute } from './routes-check.js';
import type { Trial } from './trial.js';

/**
 * A track of a station that is divided into blocks takes a second train only where the layout says so; then only while
 * the other one is known and stands, and called on. Asked of every route into such a track, with another train in each block
 * of it that the route does not touch.
 */
export function checkSharing(
  { stations }: LayoutFile,
  { elements, elementByName }: Layout,
  pairs: readonly ProvenRoute[],
  trial: Trial,
): ProofCheck {
  const faults: string[] = [];
  let looked = 0;
  const tracks = stations.flatMap((station) =>
    station.kind === 'station'
      ? station.tracks.map((track) => ({ ...track, where: `${station.name} ${track.name}` }))
      : [],
  );
  for (const { where: track, blocks: ids, callOn = false } of tracks) {
    const blocks = ids.map((id) => elementByName.get(id)!);
    for (const { route } of pairs) {
      if (!blocks.includes(blockOf(route.to)) || blocks.includes(blockOf(route.from))) continue;
      const touched = [blockOf(route.from), ...route.steps.map(({ element }) => element)];
      for (const other of blocks.filter((block) => !touched.includes(block))) {
        looked++;
        trial.stand(route.from);
        trial.bring(headingOf(other, 'a'));
        const where = `into ${track} while a train stands in ${elements[other]!.id}`;
        if (!callOn) {
          if (!trial.refusesFirst(route)) {
            faults.push(`${route.id} is granted ${where}, which the layout does not allow.`);
          }
          continue;
        }
        if (trial.refusesFirst(route)) {
          faults.push(`${route.id} is never granted ${where}, though the layout allows it.`);
        }
        trial.doubt();
        if (!trial.refusesFirst(route)) {
          faults.push(`${route.id} is granted ${where} of which it is not certain which it is.`);
        }
        trial.hold(route);
        if (!trial.isCalledOn())
          faults.push(`${route.id} is granted ${where} as if it were empty.`);
      }
    }
  }
  return {
    name: 'sharing',
    claim:
      'A divided station track takes a second train only where the layout says so, and by call-on.',
    looked,
    faults,
    notes: [],
  };
}
