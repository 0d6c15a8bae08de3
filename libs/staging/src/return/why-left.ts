import type { EngineState, World } from '@blockbell/railway';
import { placeText } from './fit-to-move.js';
import { wantedForHome, type FoundOrder } from './mover.js';
import type { LeftTrain } from './return-plan.js';
import type { Run, TrainMover } from './train-mover.js';

/** A train that may be moved. */
export interface Movable {
  readonly train: number;
  readonly mover: TrainMover;
}

/** What came of a search that didn't bring all trains back. */
interface Outcome {
  readonly world: World;
  readonly state: EngineState;
  readonly movable: readonly Movable[];
  readonly barred: ReadonlySet<number>;
  readonly found: FoundOrder<Run>;
}

/** Why a train that may be moved is not brought back, and what a person can do; `at`: its place among the movable. */
export function whyLeft(outcome: Outcome, at: number): LeftTrain {
  const { world, movable, found } = outcome;
  const { train, mover } = movable[at]!;
  const { label, canReverse } = world.stock.trains[train]!.file;
  if (world.timetable.storedPlaces[train] === null) {
    const why = `${label} was not on the layout when the session began.`;
    return { train, code: 'no-start', why, mend: 'Take it off, or leave it where it stands.' };
  }
  const mend = `Put it ${placeText(world, train)}, by hand.`;
  if (mover.least(found.nodes[at]!) === Infinity) {
    const backwards = canReverse === true ? '' : ', and it may not run with its rear leading';
    const why = `No way leads ${label} back to where it began the right way round${backwards}.`;
    return { train, code: 'no-way', why, mend };
  }
  if (!found.isBest) {
    const why = `No order of moves that brings ${label} back was found within the search allowed.`;
    return { train, code: 'not-found', why, mend };
  }
  const names = inTheWay(outcome, at);
  const why =
    names.length === 0
      ? `No order of moves brings ${label} back: the trains find no room to let one another pass.`
      : `${names.join(' and ')} ${names.length > 1 ? 'are' : 'is'} in the way of ${label}, and no order of moves leads round.`;
  const clear = `Clear its way and ask for the return again, or put it ${placeText(world, train)}, by hand.`;
  return { train, code: 'in-the-way', why, mend: names.length === 0 ? mend : clear };
}

/** What stands on the train's way home as it would be over empty track: trains, then track that is closed, failed or not seen clear. */
function inTheWay({ world, state, movable, barred, found }: Outcome, at: number): string[] {
  const { train, mover } = movable[at]!;
  const wanted = new Set(wantedForHome(mover, found.nodes[at]!));
  const trains = world.stock.trains.filter(({ index }) => {
    if (index === train) return false;
    const other = movable.findIndex((it) => it.train === index);
    const holds =
      other < 0
        ? state.elements.flatMap(({ holder }, element) => (holder === index ? [element] : []))
        : movable[other]!.mover.holds(found.nodes[other]!);
    return holds.some((it) => wanted.has(it));
  });
  const shut = world.layout.elements.filter(({ index }) => {
    const holder = state.elements[index]?.holder ?? -1;
    return wanted.has(index) && barred.has(index) && holder < 0;
  });
  return [
    ...trains.map(({ file }) => file.label),
    ...shut.map(({ id }) => `track ${id} (not open or not seen clear)`),
  ];
}
