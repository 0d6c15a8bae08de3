import { contentHash } from '../layout/hash.js';
import type { LayoutFile } from '../layout/layout-file.js';
import type { Layout } from '../layout/layout.js';
import { checkLeaving, checkPositions } from './coverage-checks.js';
import { checkDrives } from './drives-check.js';
import { checkExclusion, mustExclude, usersOf } from './exclusion-check.js';
import { checkFlank } from './flank-check.js';
import { walkRoutes } from './own-routes.js';
import { readTrack } from './own-track.js';
import type { ProofProgress, ProofReport } from './report.js';
import { checkRoutes } from './routes-check.js';
import { checkSharing } from './sharing-check.js';
import { Trial } from './trial.js';

/**
 * Proves of a compiled layout, for every route and every pair of routes, that it is locked as it must be. What must be
 * is found anew from the builder's file by walking the track; what is comes from the compiled tables and from the
 * rules themselves, asked with one route held. The file must be valid; `layout` is what it was compiled to.
 */
export function* proveLayout(
  file: LayoutFile,
  layout: Layout,
): Generator<ProofProgress, ProofReport, void> {
  const track = readTrack(file);
  const { check: routes, pairs } = checkRoutes(layout, walkRoutes(track));
  const users = usersOf(pairs);
  const excluded = mustExclude(pairs, users);
  const trial = new Trial(file, layout);
  const checks = [
    routes,
    yield* checkExclusion(layout, pairs, users, excluded, trial),
    yield* checkFlank(layout, track, pairs),
    yield* checkDrives(layout, pairs, excluded, trial),
    checkSharing(file, layout, pairs, trial),
    checkPositions(layout, track, pairs),
    checkLeaving(track, pairs),
  ];
  return {
    layout: { id: file.id, name: file.name, hash: contentHash(file) },
    size: {
      sections: layout.sections.length,
      blocks: layout.elements.filter(({ kind }) => kind === 'block').length,
      drives: layout.elements.filter(({ drive }) => drive !== null).length,
      routes: layout.routes.length,
      exclusions: excluded.reduce((sum, others) => sum + others.size, 0) / 2,
    },
    checks,
    proved: checks.every(({ faults }) => faults.length === 0),
  };
}
