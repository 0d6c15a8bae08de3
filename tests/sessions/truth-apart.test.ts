import { compileWorld, contentHash, createSession, step, type Input } from '@blockbell/railway';
import { Rehearsal, ScriptedDispatcher } from '@blockbell/rehearsal';
import { beforeAll, describe, expect, it } from 'vitest';
import { SESSION_TIMEOUT } from '../support/expect-unharmed.js';
import { exampleRailway, type Railway } from '../support/railways.js';
import { rehearse } from '../support/rehearse.js';
import { partsOf, scramble } from '../support/scramble.js';

const SEED = 4;

/** A session as it went in and came out of the engine; as text, so that nothing later can change it. */
interface Recording {
  readonly inputs: readonly string[];
  readonly effects: readonly string[];
}

function record(railway: Railway, seed: number): Recording {
  const inputs: string[] = [];
  const effects: string[] = [];
  rehearse(railway, {
    seed,
    watch: (_, input, result) => {
      inputs.push(JSON.stringify(input));
      effects.push(JSON.stringify(result.effects));
    },
  });
  return { inputs, effects };
}

const parse = (text: string): Input => JSON.parse(text) as Input;

describe.each(['demo', 'passing-loop'] as const)('on the %s, the engine', (example) => {
  const railway = exampleRailway(example);
  let recording: Recording;

  beforeAll(() => {
    recording = record(railway, SEED);
  }, SESSION_TIMEOUT);

  it(
    'decides the same without any layout behind it, from the messages alone',
    () => {
      const { inputs, effects } = recording;
      const world = compileWorld(railway.layout, railway.stock, railway.timetable);
      const state = createSession(world);
      const again = inputs.map((text) => JSON.stringify(step(world, state, parse(text)).effects));
      expect(firstDifference(again, effects)).toBe(-1);
      expect(again).toHaveLength(effects.length);
    },
    SESSION_TIMEOUT,
  );

  it.each([0.2, 0.5, 0.8])(
    'decides the same when the truth is spoilt after a message was sent, %d of the way through',
    (part) => {
      const { inputs, effects } = recording;
      const rehearsal = new Rehearsal({ ...railway, seed: SEED });
      const dispatcher = new ScriptedDispatcher(rehearsal);
      const { world, state, simulated } = rehearsal;
      while (state.revision < inputs.length * part) {
        rehearsal.runTo(rehearsal.now + 1000);
        dispatcher.look();
      }

      const before = contentHash(state);
      const truth = contentHash(simulated.state);
      // Files are nobody's state: engine and simulation read the same ones.
      scramble(simulated.state, partsOf([world.layout, world.stock]));
      expect(contentHash(simulated.state)).not.toBe(truth);
      expect(contentHash(state)).toBe(before);

      const from = state.revision;
      const again = inputs
        .slice(from)
        .map((text) => JSON.stringify(step(world, state, parse(text)).effects));
      expect(again.length).toBeGreaterThan(0);
      expect(firstDifference(again, effects.slice(from))).toBe(-1);
    },
    SESSION_TIMEOUT,
  );
});

const firstDifference = (one: readonly string[], other: readonly string[]): number =>
  one.findIndex((text, index) => text !== other[index]);
