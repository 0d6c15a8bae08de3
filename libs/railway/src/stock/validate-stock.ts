import type { Fault } from '../faults/fault.js';
import { checkIdentifiers } from '../faults/identifiers.js';
import type { StockFile } from './stock-file.js';
import { checkLocomotives } from './validation/locomotives.js';
import { checkTrains } from './validation/trains.js';

/** All faults of a stock file in one go, by theme. No fault: `compileStock` takes the file. */
export const validateStock = (file: StockFile): readonly Fault[] => [
  ...checkIdentifiers({ path: 'locomotives', entries: file.locomotives }),
  ...checkIdentifiers({ path: 'cars', entries: file.cars }),
  ...checkIdentifiers({ path: 'trains', entries: file.trains }),
  ...checkLocomotives(file),
  ...checkTrains(file),
];
