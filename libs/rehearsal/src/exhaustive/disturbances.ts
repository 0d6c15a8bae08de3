import type { Command, EngineState } from '@blockbell/railway';
import type { Disturbance, DisturbanceKind } from './scenario.js';
import type { SmallState } from './small-world/small-state.js';
import type { SmallWorld } from './small-world/small-world.js';

/** Every disturbance that may come in a state. */
export function disturbancesOf(
  small: SmallWorld,
  engine: EngineState,
  truth: SmallState,
  kinds: readonly DisturbanceKind[],
): Disturbance[] {
  if (engine.session.phase.kind !== 'running') return [];
  return kinds.flatMap((kind) => ofKind(kind, small, engine, truth));
}

function ofKind(
  kind: DisturbanceKind,
  small: SmallWorld,
  engine: EngineState,
  truth: SmallState,
): Disturbance[] {
  switch (kind) {
    case 'dropout':
      return truth.readings.flatMap((reading, section) =>
        reading === true && truth.dropouts.every((it) => it.section !== section)
          ? [{ kind, section }]
          : [],
      );
    case 'stuck-throw':
      return truth.drives.flatMap((drive, element) =>
        (drive?.moving ?? null) === null ? [] : [{ kind, element }],
      );
    case 'misread':
      return misreads(small, truth);
    case 'command':
      return commands(small, engine, truth).map((command) => ({ kind, command }));
    case 'restart':
      return [{ kind }];
  }
}

function misreads(small: SmallWorld, truth: SmallState): Disturbance[] {
  const { trains } = small.world.stock;
  return truth.messages.flatMap(({ event }, message) => {
    if (event.kind !== 'report') return [];
    return trains
      .filter(({ answers, locomotives }) => {
        const { address } = locomotives[0]!.file;
        return answers && event.decoders.every(({ number }) => number !== address.number);
      })
      .map(({ index }) => ({ kind: 'misread', message, train: index }));
  });
}

/**
 * Commands that an operator may give at any moment of a running session, whether they make sense or not. Operators don't lie:
 * they say that track is clear only where it is.
 */
function commands(small: SmallWorld, engine: EngineState, truth: SmallState): Command[] {
  const { layout } = small.world;
  const occupied = small.occupied(truth);
  const each = engine.trains.flatMap((_, train): Command[] => [
    { kind: 'give-back-route', train },
    { kind: 'turn-round', train },
    { kind: 'release-train', train },
  ]);
  const closable = layout.elements.flatMap(({ index, drive, kind }): Command[] =>
    (drive !== null || kind === 'crossing') && engine.elements[index]!.possession === null
      ? [{ kind: 'close-track', element: index, reason: 'work' }]
      : [],
  );
  const clear = layout.elements.flatMap(({ index, sections }): Command[] =>
    sections.length > 0 && sections.every((section) => !occupied[section])
      ? [{ kind: 'confirm-clear', block: index }]
      : [],
  );
  return [{ kind: 'stop-all' }, { kind: 'cut-power' }, ...each, ...closable, ...clear];
}
