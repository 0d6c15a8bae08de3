import { isMet, numberText, type Figure, type Report } from './report.js';

/** A report for a terminal: what was measured, the table, and each figure beside its target. */
export function reportText(report: Report): string {
  const { name, title, about, columns, rows, figures } = report;
  const widths = columns.map((column, at) =>
    Math.max(column.length, ...rows.map((row) => row[at]?.length ?? 0)),
  );
  const line = (row: readonly string[]): string =>
    row
      .map((cell, at) => (at === 0 ? cell.padEnd(widths[at]!) : cell.padStart(widths[at]!)))
      .join('  ')
      .trimEnd();
  return [
    `${title} (${name})`,
    ...wrapped(about).map((text) => `  ${text}`),
    ...[columns, ...rows].map((row) => `  ${line(row)}`),
    ...figures.map((figure) => `  ${isMet(figure) ? 'met   ' : 'MISSED'} ${figureText(figure)}`),
  ].join('\n');
}

/** A report as a part of a Markdown document, under the command that makes it. */
export function reportMarkdown(
  { name, title, about, columns, rows, figures }: Report,
  command = `npm run bench -- ${name}`,
): string {
  const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  const rule = row(columns.map((_, at) => (at === 0 ? '---' : '---:')));
  return [
    `## ${title}`,
    `\`${command}\``,
    about,
    [row(columns), rule, ...rows.map(row)].join('\n'),
    figures
      .map((each) => `- ${isMet(each) ? 'met' : '**missed**'}: ${figureText(each)}`)
      .join('\n'),
  ]
    .filter((part) => part !== '')
    .join('\n\n');
}

function figureText({ what, value, unit, target }: Figure): string {
  const limit =
    'most' in target
      ? `at most ${numberText(target.most)}`
      : `at least ${numberText(target.least)}`;
  return `${what}: ${numberText(value)} ${unit} (to reach: ${limit})`;
}

const WIDTH = 110;

function wrapped(text: string): string[] {
  const lines = [''];
  for (const word of text.split(' ')) {
    const last = lines[lines.length - 1]!;
    if (last !== '' && last.length + word.length >= WIDTH) lines.push(word);
    else lines[lines.length - 1] = last === '' ? word : `${last} ${word}`;
  }
  return lines;
}
