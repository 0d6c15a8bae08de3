import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { exampleFiles } from '@blockbell/examples';
import type { LayoutFile, ProofReport } from '@blockbell/railway';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runRecorded } from '../testing/run-recorded.js';

let folder: string;
const write = (name: string, text: string): string => {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
};

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'blockbell-prove-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** The passing loop with its second track taken up: both turnouts lead to buffers. */
function stub(): LayoutFile {
  const file = JSON.parse(exampleFiles('passing-loop').layout) as LayoutFile;
  const taken = file.elements.find(({ id }) => id === 'P2')!;
  const seen = taken.kind === 'block' ? taken.detection.map(({ section }) => section) : [];
  const buffers = ['Z3', 'Z4'].map((id) => ({
    ...file.elements.find((it) => it.kind === 'buffer-stop')!,
    id: id as typeof taken.id,
  }));
  return {
    ...file,
    sections: file.sections.filter(({ id }) => !seen.includes(id)),
    elements: [...file.elements.filter((it) => it !== taken), ...buffers],
    joins: file.joins.map(([one, other]): [string, string] => {
      const swap = (port: string): string => port.replace('P2.a', 'Z3.a').replace('P2.b', 'Z4.a');
      return [swap(one), swap(other)];
    }),
    stations: file.stations.map((station) => ({
      ...station,
      tracks: station.tracks.filter(({ blocks }) => !blocks.includes(taken.id)),
    })),
  };
}

describe('blockbell prove', () => {
  it('proves the demo, which it takes when no file is named, and counts as the report says', async () => {
    const { exit, out } = await runRecorded('prove', '--json');
    const report = JSON.parse(out) as ProofReport;
    expect(report.checks.flatMap(({ faults }) => faults)).toEqual([]);
    expect({ exit, proved: report.proved }).toEqual({ exit: 0, proved: true });
    expect(report.size.exclusions).toBeGreaterThan(report.size.routes);
  });

  it('reports in words, one line a check', async () => {
    const path = write('loop.json', exampleFiles('passing-loop').layout);
    const { exit, out } = await runRecorded('prove', path);
    expect(exit).toBe(0);
    const lines = out.split('\n');
    expect(lines[0]).toMatch(/^Pennick passing loop \([0-9a-f]+\)$/);
    expect(out.match(/^ {2}\w+ +holds /gm)).toHaveLength(7);
    expect(out).toContain('note: W1 towards a: only a train that can reverse leaves it.');
    expect(lines.at(-1)).toBe('Proved.');
  });

  it('fails on turnouts that lead to buffers one way, and says so', async () => {
    const { exit, out } = await runRecorded('prove', write('stub.json', JSON.stringify(stub())));
    expect(exit).toBe(1);
    expect(out).toContain('Positions  FAILS');
    expect(out).toContain('fault: No route uses T1 diverging.');
    expect(out.split('\n').at(-1)).toBe('Not proved: 2 faults.');
  });

  it('names the faults of a file that is not sound, and refuses what is no layout', async () => {
    const broken = write('broken.json', '{ "kind": "blockbell-layout" }');
    const { exit, err } = await runRecorded('prove', broken);
    expect(exit).toBe(1);
    expect(err).toContain(broken);
    const stock = write('stock.json', exampleFiles('passing-loop').stock);
    expect((await runRecorded('prove', stock)).exit).toBe(2);
    expect((await runRecorded('prove', stock, '--example', 'demo')).exit).toBe(2);
  });
});
