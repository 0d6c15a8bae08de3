import type { ExampleFiles } from './example-files.js';
import type { ExampleName } from './example-folders.js';
import { passingLoopLayout } from './passing-loop/layout.js';
import { passingLoopStock } from './passing-loop/stock.js';
import { passingLoopTimetable } from './passing-loop/timetable.js';
import { vellinValleyLayout } from './vellin-valley/layout.js';
import { vellinValleyStock } from './vellin-valley/stock.js';
import { vellinValleyTimetable } from './vellin-valley/timetable.js';

/** Every example, built anew. */
export const buildExamples = (): Readonly<Record<ExampleName, ExampleFiles>> => ({
  demo: {
    layout: vellinValleyLayout(),
    stock: vellinValleyStock(),
    timetable: vellinValleyTimetable(),
  },
  'passing-loop': {
    layout: passingLoopLayout(),
    stock: passingLoopStock(),
    timetable: passingLoopTimetable(),
  },
});
