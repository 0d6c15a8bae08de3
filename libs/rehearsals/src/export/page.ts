import type { LayoutFile } from '@blockbell/railway';
import escapeHtml from 'escape-html';
import { PICTURES } from '../pictures/all.js';
import type { Comparison } from '../report/compare.js';
import type { RehearsalReport } from '../report/report.js';
import { comparedRows, summaryRows } from './summary.js';
import { wayText } from './words.js';

const STYLE = `body{font:14px system-ui,sans-serif;color:#1d2733;margin:2rem;max-width:50rem}
table{border-collapse:collapse;margin:0 0 1.5rem}td,th{text-align:left;padding:.15rem .8rem .15rem 0;vertical-align:top}
figure{margin:0 0 1.5rem;break-inside:avoid}svg{max-width:100%;height:auto}@page{margin:15mm}`;

/** A report as a page that stands alone and prints well. */
export function reportPage(
  layout: LayoutFile,
  report: RehearsalReport,
  against: RehearsalReport | null = null,
  comparison: Comparison | null = null,
): string {
  const title = `Rehearsals of ${report.railway}, ${report.timetable}`;
  const heading = (name: string, way: RehearsalReport): string =>
    `<h1>${escapeHtml(`${name}: ${wayText(way)}`)}</h1>`;
  return [
    '<!doctype html>',
    `<html lang="en"><head><meta charset="utf-8"><title>${escapeHtml(title)}</title><style>${STYLE}</style></head><body>`,
    `<h1>${escapeHtml(title)}</h1>`,
    ...(comparison === null ? [] : comparisonParts(report, against, comparison)),
    ...(against === null ? [] : [heading('First way', report)]),
    ...reportParts(report, layout),
    ...(against === null ? [] : [heading('Second way', against)]),
    ...(against === null ? [] : reportParts(against, layout)),
    '</body></html>',
    '',
  ].join('\n');
}

function reportParts(report: RehearsalReport, layout: LayoutFile): string[] {
  const figures = Object.values(PICTURES).map(
    ({ draw }) => `<figure>${draw(report, layout)}</figure>`,
  );
  return [table(summaryRows(report)), ...figures];
}

const comparisonParts = (
  first: RehearsalReport,
  second: RehearsalReport | null,
  comparison: Comparison,
): string[] => [
  `<h2>Compared over ${comparison.pairs} seeds</h2>`,
  table([['', 'first way', 'second way', 'difference', ''], ...comparedRows(comparison)]),
  `<p>First way: ${escapeHtml(wayText(first))}.${second === null ? '' : ` Second way: ${escapeHtml(wayText(second))}.`}</p>`,
];

const table = (rows: readonly (readonly string[])[]): string =>
  `<table>${rows
    .map(([name, ...cells]) => {
      const rest = cells.map((cell) => `<td>${escapeHtml(cell)}</td>`).join('');
      return `<tr><th>${escapeHtml(name!)}</th>${rest}</tr>`;
    })
    .join('')}</table>`;
