import { describe, expect, it } from 'vitest';
import { faultFromOption } from './fault-option.js';

describe('a fault in its short form', () => {
  it.each([
    [
      'stall@60000:train=goods,duration=20000',
      { kind: 'stall', at: 60_000, train: 'goods', duration: 20_000 },
    ],
    ['stuck-drive@0:element=44', { kind: 'stuck-drive', at: 0, element: '44', duration: null }],
    [
      'runaway@5:train=goods,speed=-120',
      { kind: 'runaway', at: 5, train: 'goods', speed: -120, duration: null },
    ],
    [
      'silent-decoder@0:address=short:3',
      { kind: 'silent-decoder', at: 0, address: { kind: 'short', number: 3 }, duration: null },
    ],
    [
      'hand-moved@9:train=goods,to=b.1.a',
      { kind: 'hand-moved', at: 9, train: 'goods', to: { block: 'b.1', towards: 'a' } },
    ],
    [
      'late@0:section=null,messages=edges,by=250',
      { kind: 'late', at: 0, section: null, messages: 'edges', by: 250, duration: null },
    ],
  ])('%s', (text, fault) => {
    expect(faultFromOption(text)).toEqual(fault);
  });

  it.each(['stall', 'stall@soon:train=goods', 'stall@5:train', '@5'])('refuses %s', (text) => {
    expect(() => faultFromOption(text)).toThrow(/Write it as|no field=value/);
  });
});
