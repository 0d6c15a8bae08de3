import type { Layout } from '../layout/layout.js';
import type { OwnTrack } from './own-track.js';
import type { ProofCheck } from './report.js';
import type { ProvenRoute } from './routes-check.js';

/** Every drive is used by some route in each of its positions: none is wired the wrong way round or leads nowhere. */
export function checkPositions(
  layout: Layout,
  track: OwnTrack,
  pairs: readonly ProvenRoute[],
): ProofCheck {
  const used = new Set(
    pairs.flatMap(({ own }) => [
      ...own.steps.map(({ element, position }) => `${element}.${position}`),
      ...[...own.polarities].flatMap(([zone, wanted]) => [...wanted].map((it) => `${zone}.${it}`)),
    ]),
  );
  const wanted = [
    ...[...track.elements.values()].flatMap(({ id, positions }) =>
      positions.map((position) => ({ id, position })),
    ),
    ...layout.file.reversingSections.flatMap(({ id }) =>
      ['normal', 'reversed'].map((position) => ({ id: id as string, position })),
    ),
  ];
  return {
    name: 'positions',
    claim: 'Every turnout and every reversing section is used by a route in each position.',
    looked: wanted.length,
    faults: wanted
      .filter(({ id, position }) => !used.has(`${id}.${position}`))
      .map(({ id, position }) => `No route uses ${id} ${position}.`),
    notes: [],
  };
}

/** A train that comes into a block by a route can leave it by another, running on or turning back. */
export function checkLeaving(track: OwnTrack, pairs: readonly ProvenRoute[]): ProofCheck {
  const out = new Set(pairs.map(({ own }) => `${own.from}.${own.leaves}`));
  const faults: string[] = [];
  const notes: string[] = [];
  let looked = 0;
  for (const { id, kind, leaves } of track.elements.values()) {
    if (kind !== 'block') continue;
    for (const end of ['a', 'b'] as const) {
      const comes = pairs.some(({ own }) => {
        const last = own.steps.at(-1)!;
        return last.element === id && last.to === end;
      });
      if (!comes) continue;
      looked++;
      if (out.has(`${id}.${end}`)) continue;
      const back = end === 'a' ? 'b' : 'a';
      if (leaves[back] && out.has(`${id}.${back}`)) {
        notes.push(`${id} towards ${end}: only a train that can reverse leaves it.`);
      } else faults.push(`A train that comes into ${id} towards ${end} can never leave it.`);
    }
    if (!out.has(`${id}.a`) && !out.has(`${id}.b`)) {
      faults.push(`No route leads out of ${id}.`);
    }
  }
  return {
    name: 'leaving',
    claim: 'Every block into which a train can come can be left.',
    looked,
    faults: [...new Set(faults)],
    notes,
  };
}
