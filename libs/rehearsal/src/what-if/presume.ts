import {
  headAt,
  instant,
  mmPerS,
  speedAt,
  stepFor,
  stepOf,
  type ElementState,
  type EngineState,
  type TrainState,
  type World,
} from '@blockbell/railway';
import {
  presumeLayout,
  type PresumedDrive,
  type PresumedTrain,
  type SimulatedLayout,
  type ToldSection,
} from '@blockbell/simulation';

/**
 * The layout as the engine believes it to be at its own moment: trains where they are reckoned to be, everything else as it
 * was told last. What nobody has noticed yet is not in it.
 */
export function presumedLayout(world: World, state: EngineState, seed: number): SimulatedLayout {
  const { layout, stock } = world;
  return presumeLayout({
    layout,
    stock,
    seed,
    now: state.now,
    trains: state.trains.map((train, index) => presumedTrain(world, state, train, index)),
    drives: state.elements.map(presumedDrive),
    sections: state.sections.map((_, section) => toldSection(state, section)),
    districts: state.districts.map(({ power }) => power === 'on'),
    buses: layout.file.buses.map(({ id }) => state.buses[id] ?? false),
  });
}

function presumedTrain(
  world: World,
  { now }: EngineState,
  train: TrainState,
  index: number,
): PresumedTrain | null {
  const [rear] = train.path;
  if (train.activity.kind === 'absent' || rear === undefined) return null;
  const model = world.models[index]!;
  const { nominal } = train.reckoning;
  return {
    way: train.path.map((item) => {
      const { element, leg } = stepOf(world.layout, item);
      return { element, from: leg.from, to: leg.to };
    }),
    head: headAt(model, train, now) / 1000 - rear.start,
    frontLeads: train.frontLeads,
    speed: speedAt(nominal, model.nominal, instant(now)) / 1000,
    commands: world.stock.trains[index]!.locomotives.map(({ file, facingForward }) => {
      const forward = facingForward === train.frontLeads;
      const table = forward ? file.speedTable.forward : file.speedTable.reverse;
      const step = stepFor(table, mmPerS(nominal.target / 1000));
      return { address: file.address, forward, step };
    }),
  };
}

function presumedDrive({ position, proof }: ElementState): PresumedDrive | null {
  return position === null
    ? null
    : { position, awaited: proof === 'moving', stuck: proof === 'failed' };
}

/** What no train is known to stand on and is occupied all the same stays so. */
function toldSection(state: EngineState, section: number): ToldSection {
  const { raw, claim, unidentified, decoders, crowded } = state.sections[section]!;
  const occupied = raw === true;
  return { occupied, strange: occupied && claim < 0 && unidentified !== null, decoders, crowded };
}
