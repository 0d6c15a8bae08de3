import type { ExampleFiles } from './example-files.js';
import type { ExampleName } from './example-folders.js';
import { passingLoopLayout } from './passing-loop/layout.js';
import { passingLoopStock } from './passing-loop/stock.js';
import { passingLoopTimetable } from './passing-loop/timetable.js';

/** Every example, built anew. */
export const buildExamples = (): Readonly<Partial<Record<ExampleName, ExampleFiles>>> => ({
  'passing-loop': {
    layout: passingLoopLayout(),
    stock: passingLoopStock(),
    timetable: passingLoopTimetable(),
  },
});
