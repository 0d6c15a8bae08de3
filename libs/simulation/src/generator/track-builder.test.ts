import { describe, expect, it } from 'vitest';
import { CURRENT_SENSOR, READER } from './detector-types.js';
import { TrackBuilder } from './track-builder.js';

const start = () =>
  new TrackBuilder({ id: 'test', name: 'Test', scaleRatio: 87 })
    .level('open', 'Open', false)
    .level('hidden', 'Hidden', true)
    .district('d', 'District')
    .bus('b1', 'One', 'poll', 1000)
    .bus('b2', 'Two', 'heartbeat', 1000)
    .detectorType(READER)
    .detectorType(CURRENT_SENSOR);
const WIRING = { level: 'open', district: 'd', bus: 'b1', detector: 'reader' };

describe('the track builder', () => {
  it('joins what meets in the drawing, on the same level only', () => {
    const track = start();
    const open = track.area(WIRING);
    open.block('A', { from: [0, 0], to: [10, 0], pieces: [500] });
    open.block('B', { from: [10, 0], to: [20, 0], pieces: [500] });
    open.with({ level: 'hidden' }).block('C', { from: [20, 0], to: [30, 0], pieces: [500] });
    expect(track.build().joins).toEqual([['A.b', 'B.a']]);
    expect(track.join('B.b', 'C.a').build().joins).toEqual([
      ['A.b', 'B.a'],
      ['B.b', 'C.a'],
    ]);
  });

  it('does not take three ports at one point', () => {
    const track = start();
    const area = track.area(WIRING);
    for (const id of ['A', 'B', 'C']) {
      area.block(id, { from: [0, 0], to: [10, id.charCodeAt(0)], pieces: [500] });
    }
    expect(() => track.build()).toThrow('three ports meet at open 0 0, the third is C.a');
  });

  it('wires pieces one by one, throats together, and each bus from its first input', () => {
    const track = start();
    const area = track.area(WIRING);
    area.block('A', { from: [0, 0], to: [10, 0], pieces: [300, { undetected: 40 }, 200] });
    const ports = { stem: [10, 0], straight: [20, 0], diverging: [20, 10] } as const;
    area.turnout('T', { ...ports, section: 'throat' });
    area
      .with({ bus: 'b2', detector: 'current-sensor' })
      .turnout('U', { stem: [40, 0], straight: [30, 0], diverging: [30, 10], section: 'throat' })
      .block('B', { from: [40, 0], to: [50, 0], pieces: [400] });
    const { sections, elements } = track.build();
    expect(sections.map(({ id, bus, address }) => `${id} ${bus} ${address}`)).toEqual([
      'A.1 b1 1',
      'A.3 b1 2',
      'throat b1 3',
      'B.1 b2 1',
    ]);
    const [block, one, other] = elements;
    expect(block?.kind === 'block' && block.detection.map(({ length }) => length)).toEqual([
      300, 40, 200,
    ]);
    const drives = [one, other].map((it) => (it?.kind === 'turnout' ? it.drive.address : null));
    expect(drives).toEqual([1, 2]);
  });

  it('gives stop marks only where trains may run', () => {
    const track = start();
    track
      .area(WIRING)
      .block('A', { from: [0, 0], to: [1, 0], pieces: [500], directions: 'a-to-b', stopMark: 80 });
    const [block] = track.build().elements;
    expect(block?.kind === 'block' && block.stopMarks).toEqual({ b: 80 });
  });
});
