import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { exampleFiles } from '@blockbell/examples';
import { exampleRules } from '@blockbell/examples/rules';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runRecorded } from '../testing/run-recorded.js';

let folder: string;
const write = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'blockbell-check-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('blockbell check', () => {
  it('finds no fault in the demo, which it takes when no file is named', async () => {
    const { exit, out, err } = await runRecorded('check');
    expect({ exit, out }).toEqual({ exit: 0, out: '' });
    expect(err).toMatch(/^No fault: \d+ blocks, \d+ sections, \d+ trains, \d+ services\.$/);
  });

  it('checks a layout by itself', async () => {
    const path = write('layout.json', exampleFiles('passing-loop').layout);
    expect(await runRecorded('check', path)).toMatchObject({ exit: 0, out: '' });
  });

  it('says what of staging rules it looked at', async () => {
    const rules = write('rules.json', JSON.stringify(exampleRules('vellin-valley')));
    const alone = await runRecorded('check', rules);
    expect(alone).toMatchObject({ exit: 0, out: '' });
    expect(alone.err).toBe(
      'No fault: rules of 1 staging yard. Name layout and stock too, so that the names in the rules are looked at.',
    );
    const { layout, stock } = exampleFiles('demo');
    const files = [write('l.json', layout), write('s.json', stock)];
    const { err } = await runRecorded('check', rules, ...files);
    expect(err).toMatch(/, \d+ trains, rules of 1 staging yard\.$/);
  });

  it('names the faults of all files in one go, each with file, place and mend', async () => {
    const layout = write('broken.json', '{ "kind": "blockbell-layout", }');
    const stock = write('strange.json', '{ "kind": "a shopping list" }');
    const { exit, out, err } = await runRecorded('check', layout, stock);
    expect(exit).toBe(1);
    expect(out).toContain(`${layout}: line 1, column`);
    expect(out).toContain(`${stock}: kind:`);
    expect(out.match(/^ {2}mend: /gm)).toHaveLength(2);
    expect(err).toBe('2 faults.');
  });

  it('gives the same as JSON', async () => {
    const path = write('empty.json', '');
    const { exit, out } = await runRecorded('check', '--json', path);
    expect(exit).toBe(1);
    expect(JSON.parse(out)).toEqual({
      faults: [
        {
          file: path,
          place: 'line 1, column 1',
          text: expect.any(String),
          mend: expect.any(String),
        },
      ],
    });
  });
});
