import type { DeviceEvent } from '@blockbell/railway';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Mailbox, type Letter } from './mailbox.js';

const device = (event: DeviceEvent): Letter => ({ kind: 'device', event });
const command = (kind: 'stop-all' | 'cut-power' | 'pause'): Letter => ({
  kind: 'command',
  by: 'Ann',
  command: { kind },
  answer: () => {},
});
const edge = (section: number, occupied: boolean): Letter =>
  device({ kind: 'section', section, occupied });

function taken(letters: readonly Letter[]): Letter[] {
  const mailbox = new Mailbox();
  for (const letter of letters) mailbox.post(letter);
  const out: Letter[] = [];
  for (let next = mailbox.take(); next !== null; next = mailbox.take()) out.push(next);
  return out;
}

test('what stops a train overtakes the rest', () => {
  const [pause, free, occupied, stop] = [
    command('pause'),
    edge(1, false),
    edge(2, true),
    command('stop-all'),
  ];
  expect(taken([pause, free, occupied, stop])).toEqual([occupied, stop, pause, free]);
});

test('an edge never overtakes the message before it about the same section', () => {
  const [free, occupied] = [edge(1, false), edge(1, true)];
  expect(taken([free, occupied])).toEqual([free, occupied]);
});

test('an edge after power-on stays after it', () => {
  const on = device({ kind: 'power', district: 0, state: 'on' });
  expect(taken([command('pause'), on, edge(1, true)])).toEqual([
    on,
    edge(1, true),
    expect.objectContaining({ kind: 'command' }),
  ]);
});

const anyEvent: fc.Arbitrary<DeviceEvent> = fc.oneof(
  fc.record({
    kind: fc.constant('section' as const),
    section: fc.nat(3),
    occupied: fc.boolean(),
  }),
  fc.record({
    kind: fc.constant('report' as const),
    section: fc.nat(3),
    decoders: fc.constant([]),
  }),
  fc.record({
    kind: fc.constant('power' as const),
    district: fc.nat(1),
    state: fc.constantFrom('on' as const, 'off' as const),
  }),
  fc.record({ kind: fc.constant('bus' as const), bus: fc.constant('west'), alive: fc.boolean() }),
);

test('nothing is lost, and each source is heard in its own order', () => {
  fc.assert(
    fc.property(fc.array(anyEvent), (events) => {
      const letters = events.map(device);
      const out = taken(letters);
      expect(new Set(out)).toEqual(new Set(letters));
      expect(out).toHaveLength(letters.length);
      const sourceOf = (letter: Letter): string => {
        if (letter.kind !== 'device') return 'command';
        const { event } = letter;
        return 'section' in event ? `section ${event.section}` : 'supply';
      };
      for (const source of new Set(letters.map(sourceOf)))
        expect(out.filter((letter) => sourceOf(letter) === source)).toEqual(
          letters.filter((letter) => sourceOf(letter) === source),
        );
    }),
  );
});
