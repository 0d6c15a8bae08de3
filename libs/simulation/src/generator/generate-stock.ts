import type { StockFile, TrainClass, TrainFile } from '@blockbell/railway/track';
import { nextBetween, nextChance, type RandomStream } from '../random.js';
import { car, cars, leading, locomotive, train } from './rolling-stock.js';
import type { TrainPlan } from './train-plan.js';

/** Lengths of generated vehicles and trains, in mm. */
const COACH = 240;
const WAGON = 130;
const LONGEST_TRAIN = 1400;
const FIRST_ADDRESS = 1000;
const SILENT_PERMILLE = 120;
const UNSEEN_PERMILLE = 60;
const SINGLE_UNIT_PERMILLE = 150;

const PRIORITY: Readonly<Record<TrainClass, number>> = {
  express: 1,
  passenger: 3,
  freight: 6,
  works: 8,
};

/** One train, with a locomotive of its own, for each plan. */
export function generateStock(
  id: string,
  plans: readonly TrainPlan[],
  random: RandomStream,
): StockFile {
  const locomotives = plans.map((_, index) =>
    locomotive(`L${index + 1}`, `Engine ${index + 1}`, {
      address: FIRST_ADDRESS + index,
      length: nextBetween(random, 150, 240),
      topSpeed: nextBetween(random, 15, 26) * 10,
      acceleration: nextBetween(random, 6, 14) * 10,
      braking: nextBetween(random, 10, 20) * 10,
      spread: [nextBetween(random, 2, 4), nextBetween(random, 5, 10)],
      answers: !nextChance(random, SILENT_PERMILLE),
    }),
  );
  return {
    kind: 'blockbell-stock',
    version: 1,
    id: `${id}-stock`,
    name: `Stock of ${id}`,
    locomotives,
    cars: [
      car('coach', 'Coach', COACH),
      car('wagon', 'Wagon', WAGON),
      car('old-wagon', 'Wagon with plastic axles', WAGON, false),
    ],
    trains: plans.map((plan, index) =>
      generateTrain(plan, index, locomotives[index]?.length ?? 0, random),
    ),
  };
}

function generateTrain(
  plan: TrainPlan,
  index: number,
  locomotiveLength: number,
  random: RandomStream,
): TrainFile {
  const number = index + 1;
  const kind = nextBetween(random, 1, 10);
  const trainClass =
    kind === 1 ? 'works' : kind <= 4 ? 'freight' : kind <= 8 ? 'passenger' : 'express';
  const goods = trainClass === 'works' || trainClass === 'freight';
  const most = Math.floor((LONGEST_TRAIN - locomotiveLength) / (goods ? WAGON : COACH));
  const alone = nextChance(random, SINGLE_UNIT_PERMILLE);
  const count = alone ? 0 : nextBetween(random, 1, most);
  const unseen = goods && count > 2 && nextChance(random, UNSEEN_PERMILLE) ? 1 : 0;
  return train(`T${number}`, `${number}`, `Train ${number}`, {
    class: trainClass,
    priority: PRIORITY[trainClass],
    canReverse: plan.kind === 'shuttle',
    vehicles: [
      leading(`L${number}`),
      ...(count === 0 ? [] : [cars(goods ? 'wagon' : 'coach', count - unseen)]),
      ...(unseen === 0 ? [] : [cars('old-wagon', unseen)]),
    ],
  });
}
