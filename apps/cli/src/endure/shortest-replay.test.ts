import { readScriptedFaults } from '@blockbell/contract';
import { endureCase, endureSession } from '@blockbell/rehearsal';
import { compileLayout, compileStock } from '@blockbell/railway';
import type { Fault } from '@blockbell/simulation';
import { describe, expect, it } from 'vitest';
import { demoSubject } from '../bench/subjects.js';
import { faultFromOption } from '../rehearse/fault-option.js';
import { faultOption, shortestReplay } from './shortest-replay.js';

const { seed: _, ...demo } = demoSubject();
const layout = compileLayout(demo.layout);
const stock = compileStock(demo.stock);

const FAULTS: readonly Fault[] = [
  { kind: 'dropout', at: 5, section: 3, duration: 700 },
  { kind: 'misread', at: 6, section: 4, as: { kind: 'long', number: 1204 }, duration: null },
  { kind: 'lost', at: 7, section: null, messages: 'reports', permille: 1000, duration: 9 },
  { kind: 'bus-silence', at: 8, bus: demo.layout.buses[1]!.id, duration: 5000 },
  { kind: 'silent-decoder', at: 9, address: stock.file.locomotives[2]!.address, duration: null },
  { kind: 'runaway', at: 10, train: 2, speed: -90, duration: 4000 },
  { kind: 'lost-cars', at: 11, train: 1, length: 200 },
  { kind: 'hand-moved', at: 12, train: 0, to: demoBlock() * 2 + 1 },
  { kind: 'hand-moved', at: 13, train: 0, to: null },
  { kind: 'stuck-drive', at: 14, element: demoDrive(), duration: 60_000 },
  { kind: 'power-loss', at: 15, district: 1, duration: 3000 },
];

function demoBlock(): number {
  return layout.elements.find(({ kind }) => kind === 'block')!.index;
}

function demoDrive(): number {
  return layout.elements.find(({ drive }) => drive !== null)!.index;
}

describe('a fault as --fault reads it', () => {
  it.each(FAULTS)('is the same fault when it is read again: $kind', (fault) => {
    const written = faultFromOption(faultOption(fault, layout, stock));
    const text = JSON.stringify({ kind: 'blockbell-faults', version: 1, faults: [written] });
    const read = readScriptedFaults(text, layout, stock);
    expect(read.ok && read.faults[0]).toEqual(fault);
  });
});

describe('the shortest replay of a failed session', () => {
  it('names seed, session and level when its faults do not bring the failure about again', () => {
    const request = { seed: 1, number: 1, level: 'mixed', silent: 25 } as const;
    const outcome = endureSession(request, demo, []);
    const failure = { what: 1, text: 'invented', step: 1, at: 1 } as const;
    const replay = shortestReplay({ ...outcome, failure, script: [FAULTS[0]!] }, demo);
    expect(replay.command).toBe(
      `npx --no-install blockbell endure --seed 1 --session 1 --silent 25 --faults ${endureCase(request, demo).level}`,
    );
  }, 120_000);
});
