import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { passingLoopPaths } from '../testing/example-paths.js';
import { runRecorded } from '../testing/run-recorded.js';

const example = passingLoopPaths();
const path = join(example.folder, 'journal.jsonl');
let journal: string;

beforeAll(async () => {
  await runRecorded('rehearse', ...example.options, '--journal', path, '--quiet');
  journal = readFileSync(path, 'utf8');
});
afterAll(() => rmSync(example.folder, { recursive: true }));

describe('blockbell replay', () => {
  it('finds that a journal leads to the same effects again', async () => {
    const { exit, out } = await runRecorded('replay', path);
    expect(exit).toBe(0);
    expect(out).toMatch(/\d+ inputs replayed, every effect the same/);
  });

  it('finds that other inputs lead to other effects', async () => {
    const other = journal.replaceAll('"occupied":true', '"occupied":false');
    expect(other).not.toBe(journal);
    const { exit, out } = await runRecorded('replay', example.write('other.jsonl', other));
    expect(exit).toBe(1);
    expect(out).toContain('the effects differ between input ');
  });

  it('tells where the effects begin to differ', async () => {
    const lines = journal.trimEnd().split('\n');
    // After the heading, the third batch of fifty inputs.
    lines[3] = (lines[3] ?? '').replace(/"chain":"./, '"chain":"x');
    const text = lines.join('\n');
    const { exit, out } = await runRecorded('replay', example.write('other.jsonl', text));
    expect(exit).toBe(1);
    expect(out).toContain('the effects differ between input 101 and input 150');
  });

  it.each([
    ['a file cut short', () => journal.slice(0, -20), /line \d+: this line is no JSON/],
    ['another kind of file', () => '{}', /line 1: this is no heading/],
    ['a line without inputs', () => `${journal}{}`, /line \d+: this line holds no inputs/],
  ])('refuses %s', async (_, text, message) => {
    const { exit, err } = await runRecorded('replay', example.write('bad.jsonl', text()));
    expect(exit).toBe(1);
    expect(err).toMatch(message);
  });
});
