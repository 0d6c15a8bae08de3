import { describe, expect, it } from 'vitest';
import { reportMarkdown, reportText } from './print-report.js';
import { isMet, numberText, type Figure, type Report } from './report.js';

const most: Figure = { what: 'delay', value: 1.234, unit: 'ms', target: { most: 1 } };
const least: Figure = { what: 'speed', value: 2000, unit: '×', target: { least: 2000 } };
const report: Report = {
  name: 'sample',
  title: 'A sample',
  about: 'What was measured.',
  columns: ['row', 'ms'],
  rows: [
    ['one', '1.23'],
    ['twenty-two', '0.5'],
  ],
  figures: [most, least],
};

describe('a figure', () => {
  it.each([
    [most, false],
    [{ ...most, value: 1 }, true],
    [least, true],
    [{ ...least, value: 1999.9 }, false],
  ])('%o is met: %s', (figure, met) => {
    expect(isMet(figure)).toBe(met);
  });
});

describe('a number', () => {
  it.each([
    [0, '0'],
    [0.0012345, '0.00123'],
    [1.5, '1.5'],
    [99.96, '100'],
    [1234.4, '1,234'],
    [1234567, '1,234,567'],
  ])('%d reads %s', (value, text) => {
    expect(numberText(value)).toBe(text);
  });
});

describe('a report', () => {
  it('for a terminal has its columns in line and each figure beside its target', () => {
    expect(reportText(report).split('\n')).toEqual([
      'A sample (sample)',
      '  What was measured.',
      '  row           ms',
      '  one         1.23',
      '  twenty-two   0.5',
      '  MISSED delay: 1.23 ms (to reach: at most 1)',
      '  met    speed: 2,000 × (to reach: at least 2,000)',
    ]);
  });

  it('for a document names the command that made it', () => {
    const text = reportMarkdown(report);
    expect(text).toContain('`npm run bench -- sample`');
    expect(text).toContain('| twenty-two | 0.5 |');
    expect(text).toContain('- **missed**: delay: 1.23 ms (to reach: at most 1)');
  });
});
