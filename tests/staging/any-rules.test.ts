import { readStagingRules } from '@blockbell/contract';
import { compileWorld, ruleNames, yardSentences, type StagingRulesFile } from '@blockbell/railway';
import { bookedYard, tryRules, type BookedYard, type Trial } from '@blockbell/staging';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyYardRules } from '../support/any-rules.js';
import { exampleRailway } from '../support/railways.js';

const { layout, stock, timetable } = exampleRailway('demo');
const world = compileWorld(layout, stock, timetable);
const station = layout.stations.findIndex(({ kind }) => kind === 'staging-yard');
const yard = bookedYard(world, station);

const anyRules = fc
  .array(
    anyYardRules({
      yards: ['undercroft'],
      tracks: layout.stations[station]!.tracks.map(({ id }) => id),
      trains: stock.trains.map(({ id }) => id),
    }),
    { minLength: 1, maxLength: 1 },
  )
  .map((yards): StagingRulesFile => ({
    kind: 'blockbell-staging-rules',
    version: 1,
    id: 'drawn',
    name: 'Drawn rules',
    layout: layout.id,
    yards,
  }));

/** No track holds more than it has room for, and nobody leaves through another. */
function expectPossible({ stays, tracks }: BookedYard, trial: Trial): void {
  const there = trial.stays.flatMap((tried) => {
    const stay = stays[tried.stay]!;
    const berth = stay.berths[tried.berth ?? -1];
    return berth === undefined
      ? []
      : [{ berth, stay: tried.stay, from: tried.placed!, until: tried.left ?? Infinity }];
  });
  for (const one of there) {
    const beside = there.filter(
      (it) => it.berth.track === one.berth.track && it.from <= one.from && one.from < it.until,
    );
    const taken = beside.reduce((sum, { berth }) => sum + berth.needs, 0);
    expect(taken).toBeLessThanOrEqual(tracks[one.berth.track]!.room);
    for (const other of there) {
      if (other.berth.track !== one.berth.track || other.from <= one.from) continue;
      if (other.from < one.until && one.until < other.until)
        expect(one.berth.out).not.toBe(other.berth.in);
      if (other.until < one.until) expect(other.berth.out).toBe(other.berth.in);
    }
  }
}

describe('a rule set that nobody has seen before', () => {
  it('is refused with place and mend, or has sentences and runs, safely and the same every time', () => {
    let ran = 0;
    fc.assert(
      fc.property(anyRules, (file) => {
        const read = readStagingRules(JSON.stringify(file), world.layout, world.stock);
        if (!read.ok) {
          expect(read.faults.length).toBeGreaterThan(0);
          for (const { place, text, mend } of read.faults)
            expect([place, text, mend].every((words) => words !== '')).toBe(true);
          return;
        }
        ran++;
        expect(read.file).toEqual(file);
        const [rules] = read.file.yards;
        const sentences = yardSentences(rules!, ruleNames(layout, stock, rules!.yard));
        expect(sentences.length).toBeGreaterThanOrEqual(rules!.arrivals.length + 3);
        expect(sentences.join(' ')).not.toMatch(/undefined|NaN|\[object/);
        const trial = tryRules(world, yard, rules!);
        expectPossible(yard, trial);
        expect(tryRules(world, yard, rules!)).toEqual(trial);
      }),
      { numRuns: 140, seed: 6 },
    );
    expect(ran).toBeGreaterThan(60);
  });
});
