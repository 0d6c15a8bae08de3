import { describe, expect, it } from 'vitest';
import { commandSchema } from './commands.js';
import { LEAVE, mayDo, whyNot, type Act } from './roles.js';

const acts = Object.keys(LEAVE) as Act[];

describe('who may do what', () => {
  it('is said for every command of the session', () => {
    const kinds = commandSchema.options.map(({ shape }) => shape.kind.value);
    expect(kinds.length).toBeGreaterThan(15);
    expect(acts).toEqual(expect.arrayContaining(kinds));
  });

  it('a visitor may do nothing, a builder everything', () => {
    for (const act of acts) {
      expect(mayDo('visitor', act, true)).toBe(false);
      expect(mayDo('builder', act, false)).toBe(true);
    }
  });

  it('everybody at work may stop all trains and cut the power', () => {
    for (const act of ['stop-all', 'cut-power'] as const)
      expect(
        (['crew', 'dispatcher', 'builder'] as const).map((role) => mayDo(role, act, false)),
      ).toEqual([true, true, true]);
  });

  it('a crew may do with its own train what it may not do with another', () => {
    for (const act of [
      'drive',
      'take-in-hand',
      'turn-round',
      'release-train',
      'hold-train',
    ] as const)
      expect([mayDo('crew', act, true), mayDo('crew', act, false)]).toEqual([true, false]);
    expect(mayDo('crew', 'set-route', true)).toBe(false);
  });

  it('no role may less than the one below it', () => {
    const worth = { no: 0, own: 1, yes: 2 };
    for (const act of acts) {
      const row = LEAVE[act].map((leave) => worth[leave]);
      expect(row).toEqual([...row].sort((a, b) => a - b));
    }
  });

  it('a refusal is one sentence that says who may', () => {
    expect(whyNot('visitor', 'set-route', false)).toBe(
      'A visitor looks on; only a dispatcher or a builder may set a route.',
    );
    expect(whyNot('crew', 'drive', false)).toBe(
      'A crew drives its own train and no other; to set the speed of a train is otherwise for a dispatcher.',
    );
    expect(whyNot('dispatcher', 'manage-people', false)).toBe(
      'A dispatcher runs the session; only a builder may manage the people who may sign in.',
    );
    expect(whyNot('crew', 'drive', true)).toBeNull();
  });
});
