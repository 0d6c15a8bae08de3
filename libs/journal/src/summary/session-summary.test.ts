import { readFile } from '@blockbell/contract';
import { exampleFiles } from '@blockbell/examples';
import {
  compileWorld,
  type Input,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import { runSession } from '@blockbell/rehearsal';
import type { Fault } from '@blockbell/simulation';
import { describe, expect, it } from 'vitest';
import { summariseSession, type SessionSummary } from './session-summary.js';
import { causesText, summaryTables } from './summary-tables.js';

const texts = exampleFiles('passing-loop');
const layout = fileOf<LayoutFile>(texts.layout);
const stock = fileOf<StockFile>(texts.stock);
const timetable = fileOf<TimetableFile>(texts.timetable);

function fileOf<File>(text: string): File {
  const read = readFile(text);
  if (!read.ok) throw new Error('the example has faults');
  return read.file as File;
}

/** A whole session with faults, and its summary. */
function summarised(faults: (world: ReturnType<typeof compileWorld>) => Fault[]): SessionSummary {
  const world = compileWorld(layout, stock, timetable);
  const inputs: Input[] = [];
  const session = runSession(
    { layout, stock, timetable, seed: 1, faults: faults(world) },
    (_, input) => inputs.push(input),
  );
  while (session.next().done !== true);
  return summariseSession(compileWorld(layout, stock, timetable), timetable, inputs);
}

const locomotiveOf = ({ locomotives }: SessionSummary, train: string) =>
  locomotives.filter((it) => it.train === train);

describe('the summary of a session', () => {
  const sound = summarised(() => []);

  it('of a sound railway names nobody, and every service with its delay', () => {
    expect(sound.services.map(({ run }) => run)).toEqual(new Array(6).fill(true));
    for (const { late, entry, own, recovered, waits } of sound.services) {
      const waited = waits.reduce((sum, { time }) => sum + time, 0);
      expect(late).toBe(entry + own + waited - recovered);
    }
    expect(sound.alarms).toEqual([]);
    for (const { verdict } of sound.locomotives) {
      expect(['good', 'known to be silent']).toContain(verdict);
    }
    expect(sound.detectors.filter(({ verdict }) => verdict === 'good').length).toBeGreaterThan(20);
    expect(
      sound.detectors.filter(({ verdict }) => !['good', 'not used'].includes(verdict)),
    ).toEqual([]);
  });

  it('finds a decoder that never answers, in visits that were answered before', () => {
    const train = sound.locomotives.find(({ verdict }) => verdict === 'good')!.train!;
    const [kind, number] = locomotiveOf(sound, train)[0]!.address.split(':');
    const silent = summarised(() => [
      {
        kind: 'silent-decoder',
        at: 0,
        duration: null,
        address: { kind: kind as 'short' | 'long', number: Number(number) },
      },
    ]);
    const [locomotive] = locomotiveOf(silent, train);
    expect(locomotive).toMatchObject({ answered: 0, verdict: 'never answers' });
    expect(locomotive!.visits).toBeGreaterThan(2);
  });

  it('finds a section that flickers, and no other', () => {
    const flickering = summarised(({ layout: { sectionByName } }) =>
      // Lost for longer than any hold-off, again and again: some of it falls under a train.
      Array.from({ length: 400 }, (_, time): Fault => ({
        kind: 'dropout',
        at: time * 2000,
        duration: 300,
        section: sectionByName.get('P1.2')!,
      })),
    );
    const verdicts = flickering.detectors.filter(({ verdict }) => verdict === 'flickers');
    expect(verdicts.map(({ section }) => section)).toEqual(['P1.2']);
    expect(summaryTables(flickering).detectors).toMatch(/^P1\.2,.*,flickers\r$/m);
  });

  it('tells of alarms by kind, and of delays by their causes', () => {
    const stalled = summarised(({ stock: { trainByName } }) => [
      { kind: 'stall', at: 90_000, duration: 120_000, train: trainByName.get('T3')! },
    ]);
    expect(stalled.alarms.reduce((sum, { count }) => sum + count, 0)).toBeGreaterThan(0);
    expect(stalled.alarms[0]!.first).not.toBe('');
    const late = stalled.services.filter((it) => (it.late ?? 0) > 0);
    expect(late.length).toBeGreaterThan(0);
    expect(late.map(causesText).join('; ')).toMatch(/\d min (for 3|.*) at /);
  });
});
