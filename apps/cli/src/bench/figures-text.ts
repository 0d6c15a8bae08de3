import { cpus, release, totalmem, type } from 'node:os';
import type { StepFigures } from './measure-steps.js';

/** What the figures were measured on. */
export function machineText(): string {
  const processors = cpus();
  const model = processors[0]?.model.trim() ?? 'unknown processor';
  const memory = Math.round(totalmem() / 2 ** 30);
  return `Node ${process.versions.node}, ${processors.length} × ${model}, ${memory} GiB, ${type()} ${release()}`;
}

/** Figures as a table; one step in µs. */
export function figuresText(figures: StepFigures): string {
  const { subject, sections, trains, minutes, rehearsalSpeed, search, steps } = figures;
  const rows = [
    ['one step, µs', 'count', 'mean', 'p50', 'p99', 'max'],
    ...steps.map(({ kind, count, mean, p50, p99, max }) => [
      kind,
      String(count),
      ...[mean, p50, p99, max].map((value) => value.toFixed(0)),
    ]),
  ];
  const table = rows.map(
    ([name = '', ...numbers]) =>
      `  ${name.padEnd(16)}${numbers.map((text) => text.padStart(9)).join('')}`,
  );
  return [
    `${subject}: ${sections} sections, ${trains} trains, ${minutes.toFixed(1)} min of running`,
    ...table,
    `  most search in one step: ${search.most} expansions, of a slice of ${search.slice}`,
    `  rehearsal with its rules checked: ${rehearsalSpeed.toFixed(0)} times real time`,
  ].join('\n');
}
