import { exampleFiles, type ExampleName } from '@blockbell/examples';
import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import { generateRailway } from '@blockbell/simulation';
import type { Chance } from './chance.js';

/** The three files of a session. */
export interface Railway {
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
}

export function exampleRailway(name: ExampleName): Railway {
  const { layout, stock, timetable } = exampleFiles(name);
  return {
    layout: JSON.parse(layout) as LayoutFile,
    stock: JSON.parse(stock) as StockFile,
    timetable: JSON.parse(timetable) as TimetableFile,
  };
}

/** A small railway that nobody drew: two to four trains, at least half of the line single. */
export function smallRailway(chance: Chance): Railway {
  const trains = chance.between(2, 4);
  return generateRailway({
    seed: chance.below(1_000_000),
    sections: chance.between(30 * trains, 50 * trains),
    trains,
    singleLineShare: chance.between(50, 100) / 100,
    services: 2 * trains,
  });
}
