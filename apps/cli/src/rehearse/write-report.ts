import { join } from 'node:path';
import type { LayoutFile } from '@blockbell/railway';
import {
  comparisonTable,
  PICTURES,
  reportPage,
  reportTables,
  type Comparison,
  type RehearsalReport,
  type SessionResult,
} from '@blockbell/rehearsals';
import { makeFolder, writeText } from '../text-files.js';

interface Written {
  readonly layout: LayoutFile;
  readonly report: RehearsalReport;
  readonly against: RehearsalReport | null;
  readonly comparison: Comparison | null;
  /** By plan. */
  readonly results: readonly (readonly SessionResult[])[];
}

/** Writes a report to a folder: JSON, tables as CSV, pictures as SVG, and all of it as a page; of the second the same, marked so. */
export function writeReport(
  folder: string,
  { layout, report, against, comparison, results }: Written,
): void {
  makeFolder(folder);
  writeText(
    join(folder, 'report.json'),
    `${JSON.stringify({ report, against, comparison }, null, 2)}\n`,
  );
  writeText(join(folder, 'sessions.json'), `${JSON.stringify(results)}\n`);
  writeText(join(folder, 'report.html'), reportPage(layout, report, against, comparison));
  writeOne(folder, '', report, layout);
  if (against !== null) writeOne(folder, 'against-', against, layout);
  if (comparison !== null) writeText(join(folder, 'comparison.csv'), comparisonTable(comparison));
}

function writeOne(folder: string, mark: string, report: RehearsalReport, layout: LayoutFile): void {
  for (const [name, text] of Object.entries(reportTables(report))) {
    writeText(join(folder, `${mark}${name}`), text);
  }
  for (const [name, { draw }] of Object.entries(PICTURES)) {
    writeText(join(folder, `${mark}${name}.svg`), `${draw(report, layout)}\n`);
  }
}
