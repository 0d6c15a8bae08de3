import type { Scenario } from '../scenario.js';
import { levelCrossing, slip } from './crossings.js';
import { reversingLoop, sharedPlatform, terminus, twoPlatforms, yardThroat } from './stations.js';
import { crossover, junction, overlap, passingLoop } from './through-lines.js';

/** Every small railway that is gone through whole, by name. */
export const SMALL_RAILWAYS: readonly Scenario[] = [
  passingLoop(),
  junction(),
  levelCrossing(),
  slip(),
  terminus(),
  yardThroat(),
  reversingLoop(),
  twoPlatforms(),
  crossover(),
  overlap(),
  sharedPlatform(),
];
