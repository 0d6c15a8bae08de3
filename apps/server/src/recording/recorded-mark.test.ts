import { exampleFiles } from '@blockbell/examples';
import { compileWorld, refusal, type Command } from '@blockbell/railway';
import { describe, expect, it } from 'vitest';
import { recordedMark } from './recorded-mark.js';

const { layout, stock, timetable } = exampleFiles('passing-loop');
const world = compileWorld(JSON.parse(layout), JSON.parse(stock), JSON.parse(timetable));
const done = { kind: 'answer', refusal: null } as const;
const given = (command: Command) => ({ kind: 'command', at: 5, by: 'Robin', command }) as const;

describe('what is marked to be gone to again', () => {
  it.each<[Command, string, number | null, RegExp]>([
    [{ kind: 'stop-all' }, 'decision', null, /^Robin stopped all trains\.$/],
    [{ kind: 'hold-departures', hold: true }, 'decision', null, /^Robin held all departures\.$/],
    [{ kind: 'follow-staging-rules', rules: null }, 'decision', null, /worked by no rules\.$/],
    [{ kind: 'set-clock-ratio', ratio: 4 }, 'decision', null, /fast clock to 4:1\.$/],
    [{ kind: 'hold-train', train: 0, hold: true }, 'decision', 0, /^Robin held \S+\.$/],
    [{ kind: 'take-in-hand', train: 1, take: true }, 'in-hand', 1, /in hand\.$/],
    [{ kind: 'take-in-hand', train: 1, take: false }, 'decision', 1, /back to the timetable\.$/],
    [{ kind: 'give-back-route', train: 0 }, 'given-back', 0, /gave the way of \S+ back\.$/],
  ])('%j', (command, kind, train, text) => {
    const mark = recordedMark(world, given(command), done);
    expect(mark).toMatchObject({ kind, train });
    expect(mark!.text).toMatch(text);
  });

  it('is no command that was refused, passes by, or is none', () => {
    const refused = { kind: 'answer', refusal: refusal('too-late', 'It has left.') } as const;
    expect(recordedMark(world, given({ kind: 'stop-all' }), refused)).toBeNull();
    expect(recordedMark(world, given({ kind: 'drive', train: 0, speed: 40 }), done)).toBeNull();
    expect(recordedMark(world, given({ kind: 'acknowledge-alarm', alarm: 1 }), done)).toBeNull();
    const raised = { kind: 'alarm', alarm: 1, raised: true, text: 'A drive failed.' } as const;
    expect(recordedMark(world, { kind: 'deadline', at: 5 }, raised)?.kind).toBe('alarm');
    expect(
      recordedMark(world, { kind: 'deadline', at: 5 }, { ...raised, raised: false }),
    ).toBeNull();
  });
});
