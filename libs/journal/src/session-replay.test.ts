import { exampleFiles, type ExampleName } from '@blockbell/examples';
import { compileWorld, type Input, type World } from '@blockbell/railway';
import { Rehearsal, ScriptedDispatcher } from '@blockbell/rehearsal';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chainOf, nextChain } from './effect-chain.js';
import { runName, SessionReplay, type ReplayedBatch } from './session-replay.js';

const SEED = 7;
const BATCH = 20;

const filesOf = (name: ExampleName) => {
  const { layout, stock, timetable } = exampleFiles(name);
  return {
    layout: JSON.parse(layout) as Parameters<typeof compileWorld>[0],
    stock: JSON.parse(stock) as Parameters<typeof compileWorld>[1],
    timetable: JSON.parse(timetable) as Parameters<typeof compileWorld>[2],
  };
};

interface Recorded {
  readonly batches: readonly ReplayedBatch[];
  readonly fresh: () => World;
  readonly state: string;
  readonly truth: string;
}

/** So many ms of a session, as its journal has them. */
function record(name: ExampleName, until: number): Recorded {
  const files = filesOf(name);
  const rehearsal = new Rehearsal({ ...files, seed: SEED });
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const batches: ReplayedBatch[] = [];
  let inputs: Input[] = [];
  let chain = chainOf(runName(3, 1));
  rehearsal.observe((_, input, { effects }) => {
    inputs.push(structuredClone(input));
    chain = nextChain(chain, effects);
    if (inputs.length < BATCH) return;
    batches.push({ inputs, chain });
    inputs = [];
  });
  while (rehearsal.now < until) {
    rehearsal.runTo(rehearsal.now + 1000);
    dispatcher.look();
  }
  batches.push({ inputs, chain });
  return {
    batches,
    fresh: () => compileWorld(files.layout, files.stock, files.timetable),
    state: JSON.stringify(rehearsal.state),
    truth: JSON.stringify(rehearsal.simulated.truth.trains()),
  };
}

const begin = ({ fresh }: Recorded): SessionReplay => {
  const replay = SessionReplay.begin(fresh(), SEED, []);
  replay.beginRun(3, 1);
  return replay;
};

describe.each([
  ['passing-loop', 200_000],
  ['demo', 400_000],
] as const)('a session on %s', (name, until) => {
  const recorded = record(name, until);

  it('is the same again from its journal, engine and layout', () => {
    const replay = begin(recorded);
    for (const batch of recorded.batches) expect(replay.feed(batch)).toBe(true);
    expect(JSON.stringify(replay.state)).toBe(recorded.state);
    replay.simulated.advance(until);
    expect(JSON.stringify(replay.simulated.truth.trains())).toBe(recorded.truth);
  });

  it('goes on from what was saved at any moment, in a world compiled anew, to the same bytes', () => {
    fc.assert(
      fc.property(fc.nat(recorded.batches.length - 1), (at) => {
        const first = begin(recorded);
        for (const batch of recorded.batches.slice(0, at)) first.feed(batch);
        const saved = first.save();
        const again = SessionReplay.restore(recorded.fresh(), SEED, saved);
        again.goOnFrom(first.chain);
        expect(again.save()).toEqual(saved);
        for (const batch of recorded.batches.slice(at)) expect(again.feed(batch)).toBe(true);
        expect(JSON.stringify(again.state)).toBe(recorded.state);
        again.simulated.advance(until);
        expect(JSON.stringify(again.simulated.truth.trains())).toBe(recorded.truth);
      }),
      { numRuns: name === 'demo' ? 4 : 15 },
    );
  });

  it('is not the same when an input is missing', () => {
    const replay = begin(recorded);
    const batches = recorded.batches.map(({ inputs, chain }, at) => ({
      inputs: at === 3 ? inputs.slice(1) : inputs,
      chain,
    }));
    expect(batches.every((batch) => replay.feed(batch))).toBe(false);
  });
});
