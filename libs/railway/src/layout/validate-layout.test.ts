import { describe, expect, it } from 'vitest';
import { edited, elementOf, mutable } from '../testing/edit.js';
import type { Mutable } from '../testing/edit.js';
import { expectFault, expectOnlyFault } from '../testing/expect-fault.js';
import {
  balloonLoop,
  block,
  bufferStop,
  crossing,
  detection,
  layoutOf,
  passingLoop,
  reversing,
  slip,
  station,
  threeWay,
  turnout,
} from '../testing/layout-parts.js';
import { kmPerH, mm, ms } from '../units.js';
import type { LayoutFile } from './layout-file.js';
import { validateLayout } from './validate-layout.js';

type Change = (file: Mutable<LayoutFile>) => void;
const faultsAfter = (change: Change, file: LayoutFile = passingLoop()) =>
  validateLayout(edited(file, change));

/** Everything at once: each kind of element, ends closed by buffer stops. */
const everyKind = (): LayoutFile => {
  const ends = ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'H'];
  return layoutOf(
    [
      ...ends.map((id) => block(id)),
      ...ends.map((id) => bufferStop(`end-${id}`)),
      slip('X', 'double-slip'),
      slip('Y', 'single-slip'),
      crossing('Z'),
      threeWay('W'),
      turnout('T'),
      block('P'),
      block('Q'),
      block('R'),
      block('S'),
    ],
    [
      ...ends.map((id) => `${id}.a end-${id}.a`),
      'A.b X.a',
      'B.b X.b',
      'X.c P.a',
      'X.d Q.a',
      'P.b Y.a',
      'Q.b Y.b',
      'Y.c R.a',
      'Y.d S.a',
      'R.b Z.a',
      'S.b Z.b',
      'Z.c W.stem',
      'Z.d T.stem',
      'W.left C.b',
      'W.straight D.b',
      'W.right E.b',
      'T.straight F.b',
      'T.diverging G.b',
      'H.b end-H2.a',
    ],
    {},
  );
};

describe('sound layouts', () => {
  it('have no fault', () => {
    expect(validateLayout(passingLoop())).toEqual([]);
    expect(validateLayout(balloonLoop())).toEqual([]);
    const all = everyKind();
    expect(validateLayout({ ...all, elements: [...all.elements, bufferStop('end-H2')] })).toEqual(
      [],
    );
  });
});

describe('names', () => {
  it.each<[string, Change, string, RegExp]>([
    [
      'an id twice',
      (file) => {
        elementOf(file, 'TE', 'turnout').id = 'TW';
      },
      'elements[5] TW',
      /already used by elements\[2\] TW/,
    ],
    [
      'an id that begins with a digit',
      (file) => {
        file.levels[0]!.id = '1st';
      },
      'levels[0] 1st',
      /no valid id/,
    ],
    [
      'a reversing section with the id of an element',
      (file) => {
        file.reversingSections.push(mutable(reversing('M', [], [])));
      },
      'reversingSections[0] M',
      /already used by elements\[3\] M/,
    ],
    [
      'a track twice in a station',
      (file) => {
        file.stations[1]!.tracks[1]!.id = 't1';
      },
      'stations[1] Loop tracks[1] t1',
      /already used/,
    ],
  ])('%s', (_, change, place, text) => expectFault(faultsAfter(change), place, text));
});

describe('references', () => {
  it.each<[string, Change, string, RegExp]>([
    [
      'detector type',
      (file) => void (file.sections[0]!.detector = 'x'),
      'sections[0]',
      /no detector type x/,
    ],
    ['bus', (file) => void (file.sections[0]!.bus = 'x'), 'sections[0]', /no bus x/],
    [
      'power district',
      (file) => void (file.sections[0]!.district = 'x'),
      'sections[0]',
      /no power district x/,
    ],
    [
      'section of a block',
      (file) => void (elementOf(file, 'M', 'block').detection[0]!.section = 'x'),
      'elements[3] M detection[0]',
      /no section x/,
    ],
    [
      'section of a turnout',
      (file) => void (elementOf(file, 'TW', 'turnout').section = 'x'),
      'elements[2] TW',
      /no section x/,
    ],
    [
      'level',
      (file) => {
        elementOf(file, 'WB', 'buffer-stop').draw = { level: 'x', ports: { a: [0, 0] } };
      },
      'elements[0] WB draw',
      /no level x/,
    ],
    [
      'element of a reversing section',
      (file) => {
        file.reversingSections.push(mutable(reversing('R', ['x'], [])));
      },
      'reversingSections[0] R',
      /no element x/,
    ],
  ])('to an unknown %s', (_, change, place, text) => expectFault(faultsAfter(change), place, text));
});

describe('joins', () => {
  it('to an unknown element', () => {
    expectFault(
      faultsAfter((file) => void (file.joins[0] = ['WX.a', 'W.a'])),
      'joins[0] WX.a–W.a',
      /no element WX/,
    );
  });

  it('to an unknown port', () => {
    expectFault(
      faultsAfter((file) => void (file.joins[2] = ['TW.left', 'M.a'])),
      'joins[2]',
      /TW is a turnout and has no port left, only stem, straight, diverging/,
    );
  });

  it('without a port', () => {
    expectFault(
      faultsAfter((file) => void (file.joins[0] = ['WB', 'W.a'])),
      'joins[0]',
      /names no port/,
    );
  });

  it('of a port twice', () => {
    const faults = faultsAfter((file) => void file.joins.push(['M.a', 'S.b']));
    expectFault(faults, 'joins[8] M.a–S.b', /M\.a is already joined by joins\[2\]/);
    expectFault(faults, 'joins[8] M.a–S.b', /S\.b is already joined by joins\[5\]/);
  });

  it('missing at a port', () => {
    const faults = faultsAfter((file) => void file.joins.splice(3, 1));
    expectFault(faults, 'elements[2] TW port diverging', /nothing is joined/);
    expectFault(faults, 'elements[4] S port a', /nothing is joined/);
  });

  it('of an element to itself', () => {
    expectFault(
      validateLayout(layoutOf([block('A')], ['A.a A.b'])),
      'joins[0]',
      /joined to itself/,
    );
  });
});

describe('measures', () => {
  it.each<[string, Change, string, RegExp]>([
    ['scale ratio 0', (file) => void (file.scaleRatio = 0), 'scaleRatio', /ratio is 0/],
    [
      'a detected length of 0',
      (file) => void (elementOf(file, 'M', 'block').detection[0]!.length = mm(0)),
      'elements[3] M',
      /length of detection\[0\] is 0 mm/,
    ],
    [
      'a leg without length',
      (file) => void (elementOf(file, 'TW', 'turnout').lengths.straight = mm(-1)),
      'elements[2] TW',
      /straight leg is -1 mm/,
    ],
    [
      'negative fouling',
      (file) => void (elementOf(file, 'TW', 'turnout').fouling.straight = mm(-1)),
      'elements[2] TW',
      /fouling of its straight leg/,
    ],
    [
      'a speed limit of 0',
      (file) => void (elementOf(file, 'TW', 'turnout').divergingLimit = kmPerH(0)),
      'elements[2] TW',
      /diverging limit is 0 km\/h/,
    ],
    [
      'a block limit of 0',
      (file) => void (elementOf(file, 'M', 'block').speedLimit = kmPerH(0)),
      'elements[3] M',
      /speed limit is 0/,
    ],
    [
      'no throw time',
      (file) => void (elementOf(file, 'TW', 'turnout').drive.throwTime = ms(0)),
      'elements[2] TW',
      /throw time is 0 ms/,
    ],
    [
      'a drive address used twice',
      (file) => {
        elementOf(file, 'TE', 'turnout').drive.address = elementOf(
          file,
          'TW',
          'turnout',
        ).drive.address;
      },
      'elements[5] TE',
      /drive address \d+ is already used by elements\[2\] TW/,
    ],
    [
      'a drive address of 0',
      (file) => void (elementOf(file, 'TE', 'turnout').drive.address = 0),
      'elements[5] TE',
      /address is 0/,
    ],
    [
      'a bus whose silence is noticed at once',
      (file) => void (file.buses[0]!.silence.noticedWithin = ms(0)),
      'buses[0] bus1',
      /silence/,
    ],
    [
      'a negative hold-off',
      (file) => void (file.detectorTypes[0]!.holdOff = ms(-1)),
      'detectorTypes[0] reader',
      /hold-off/,
    ],
    [
      'a negative delay',
      (file) => void (file.detectorTypes[0]!.worstDelay.report = ms(-1)),
      'detectorTypes[0] reader',
      /"report"/,
    ],
    [
      'a reporting detector that reads no decoder',
      (file) => void (file.detectorTypes[0]!.readsAtOnce = 0),
      'detectorTypes[0] reader',
      /reports identity but reads 0/,
    ],
    [
      'a stop mark beyond the block',
      (file) => void (elementOf(file, 'M', 'block').stopMarks = { b: mm(1200) }),
      'elements[3] M stop mark b',
      /1200 mm from end b, but the block is 1200 mm/,
    ],
    [
      'a stop mark inside the fouling distance',
      (file) => void (elementOf(file, 'S', 'block').stopMarks = { a: mm(99) }),
      'elements[4] S stop mark a',
      /stands foul: the fouling point lies at 100 mm/,
    ],
  ])('%s', (_, change, place, text) => expectOnlyFault(faultsAfter(change), place, text));

  it('a block without length', () => {
    expectFault(
      faultsAfter((file) => void (elementOf(file, 'M', 'block').detection = [])),
      'elements[3] M',
      /no length/,
    );
  });

  it('of crossings and slips', () => {
    const faults = validateLayout(
      layoutOf(
        [
          crossing('X', { length: mm(0), fouling: mm(-2) }),
          slip('Y', 'single-slip', { slipLimit: kmPerH(0) }),
        ],
        ['X.a Y.a', 'X.b Y.b', 'X.c Y.c', 'X.d Y.d'],
      ),
    );
    expectFault(faults, 'elements[0] X', /its length is 0 mm/);
    expectFault(faults, 'elements[0] X', /its fouling is -2 mm/);
    expectFault(faults, 'elements[1] Y', /slip limit/);
  });
});

describe('sections', () => {
  it('with the same address on the same bus', () => {
    expectOnlyFault(
      faultsAfter((file) => void (file.sections[3]!.address = file.sections[1]!.address)),
      'sections[3] s-S',
      /address 2 of bus bus1 is already used by sections\[1\] s-TW/,
    );
  });

  it('that see track which does not adjoin', () => {
    expectFault(
      faultsAfter((file) => void (elementOf(file, 'E', 'block').detection[0]!.section = 's-W')),
      'sections[0] s-W',
      /sees elements\[6\] E, which doesn't adjoin/,
    );
  });

  it('may reach over a join', () => {
    const faults = faultsAfter((file) => {
      elementOf(file, 'TW', 'turnout').section = 's-W';
      file.sections = file.sections.filter(({ id }) => id !== 's-TW');
    });
    expect(faults).toEqual([]);
  });

  it('that nothing uses', () => {
    expectOnlyFault(
      faultsAfter((file) => void (elementOf(file, 'TW', 'turnout').section = null)),
      'sections[1] s-TW',
      /no element uses/,
    );
  });

  it('that stop and begin again in a block', () => {
    expectFault(
      faultsAfter((file) => {
        elementOf(file, 'M', 'block').detection = mutable(
          detection(['s-M', 400], [null, 100], ['s-M', 700]),
        );
      }),
      'elements[3] M',
      /s-M stands twice/,
    );
  });
});

describe('stations', () => {
  it.each<[string, LayoutFile['stations'][number], RegExp]>([
    ['of an unknown block', station('Q', 0, ['x']), /no block x/],
    ['of something that is no block', station('Q', 0, ['TW']), /TW is a turnout, not a block/],
    ['without a block', station('Q', 0, []), /no block/],
    ['whose slots are not end to end', station('Q', 0, ['W', 'M']), /slot M doesn't follow W/],
    ['with a block of another track', station('Q', 0, ['M', 'M']), /block M is already used/],
  ])('with a track %s', (_, added, text) => {
    expectFault(
      validateLayout({ ...passingLoop(), stations: [added] }),
      'stations[0] Q tracks[0] t1',
      text,
    );
  });

  it('may have tracks of several slots, written from either end', () => {
    const file = (slots: string[]): LayoutFile =>
      layoutOf(
        [bufferStop('E'), block('A'), block('B'), block('C'), bufferStop('F')],
        ['E.a A.a', 'A.b B.b', 'B.a C.a', 'C.b F.a'],
        { stations: [station('Q', 0, slots)] },
      );
    expect(validateLayout(file(['A', 'B', 'C']))).toEqual([]);
    expect(validateLayout(file(['C', 'B', 'A']))).toEqual([]);
    expectOnlyFault(
      validateLayout(file(['A', 'C', 'B'])),
      'stations[0] Q tracks[0]',
      /C doesn't follow A/,
    );
  });
});

describe('reversing sections', () => {
  const gaps = (file: Mutable<LayoutFile>) => file.reversingSections[0]!.gaps;

  it.each<[string, Change, string, RegExp]>([
    [
      'a gap that is not on the border',
      (file) => void (gaps(file)[0]!.port = 'A.a'),
      'reversingSections[0] R gaps[0] A.a',
      /not lie on the border/,
    ],
    [
      'a gap at an unknown port',
      (file) => void (gaps(file)[0]!.port = 'L.c'),
      'reversingSections[0] R gaps[0] L.c',
      /not lie on the border/,
    ],
    [
      'a gap twice',
      (file) => void (gaps(file)[1]!.port = 'L.a'),
      'reversingSections[0] R gaps[1]',
      /twice/,
    ],
    [
      'a missing gap',
      (file) => void gaps(file).pop(),
      'reversingSections[0] R',
      /no gap between L\.b and T\.diverging/,
    ],
    [
      'a polarity that does not fit',
      (file) => void (gaps(file)[1]!.polarity = 'normal'),
      'reversingSections[0] R gaps[1] L.b',
      /normal does not fit here if L\.a has normal/,
    ],
    [
      'an element of another reversing section',
      (file) => void file.reversingSections.push(mutable(reversing('R2', ['L'], []))),
      'reversingSections[1] R2',
      /L belongs to another/,
    ],
    [
      'a neighbour that is one too',
      (file) => void file.reversingSections.push(mutable(reversing('R2', ['T'], []))),
      'reversingSections[1] R2',
      /meets another reversing section between T\.straight and L\.a/,
    ],
    [
      'a section that sees over the gap',
      (file) => void (elementOf(file, 'T', 'turnout').section = 's-L'),
      'reversingSections[0] R',
      /s-L sees track inside and outside/,
    ],
  ])('%s', (_, change, place, text) =>
    expectFault(faultsAfter(change, balloonLoop()), place, text),
  );

  it('may name the outer side of a gap', () => {
    expect(faultsAfter((file) => void (gaps(file)[0]!.port = 'T.straight'), balloonLoop())).toEqual(
      [],
    );
  });
});

describe('polarity', () => {
  const shorts = (file: LayoutFile) =>
    validateLayout(file).filter((fault) => fault.text.includes('short circuit'));

  it('finds a balloon loop without a reversing section, and names the loop', () => {
    const found = shorts({ ...balloonLoop(), reversingSections: [] });
    expectOnlyFault(found, 'joins[', /comes back to itself reversed.*: (L, T|T, L)$/);
  });

  it('finds a wye', () => {
    const wye = layoutOf(
      [
        turnout('T1'),
        turnout('T2'),
        turnout('T3'),
        ...['A', 'B', 'C', 'X', 'Y', 'Z'].map((id) => block(id)),
        ...['X', 'Y', 'Z'].map((id) => bufferStop(`end-${id}`)),
      ],
      [
        'T1.straight A.a',
        'A.b T2.diverging',
        'T2.straight B.a',
        'B.b T3.diverging',
        'T3.straight C.a',
        'C.b T1.diverging',
        'T1.stem X.a',
        'T2.stem Y.a',
        'T3.stem Z.a',
        'X.b end-X.a',
        'Y.b end-Y.a',
        'Z.b end-Z.a',
      ],
    );
    expect(shorts(wye)).toHaveLength(1);
    const mended = {
      ...wye,
      reversingSections: [
        reversing(
          'R',
          ['C'],
          [
            { port: 'C.a', polarity: 'normal' },
            { port: 'C.b', polarity: 'reversed' },
          ],
        ),
      ],
    };
    expect(validateLayout(mended)).toEqual([]);
  });

  it('finds nothing in a ring, nor in a ring crossed by its own spur', () => {
    const ring = layoutOf([block('A'), block('B')], ['A.b B.a', 'B.b A.a']);
    expect(shorts(ring)).toEqual([]);
    // A figure of eight over a plain crossing: the two tracks of the crossing are insulated.
    const eight = layoutOf(
      [block('A'), block('B'), crossing('X')],
      ['X.c A.a', 'A.b X.b', 'X.d B.a', 'B.b X.a'],
    );
    expect(shorts(eight)).toEqual([]);
  });

  it('sees two ring blocks joined the wrong way round as a reversal', () => {
    const moebius = layoutOf(
      [block('A'), block('B'), turnout('T'), block('C')],
      ['A.b T.stem', 'T.straight B.a', 'T.diverging C.a', 'B.b C.b'],
    );
    expect(shorts(moebius)).toHaveLength(1);
  });
});

describe('traps', () => {
  it('finds one-way blocks that lead nowhere', () => {
    expectFault(
      faultsAfter((file) => void (elementOf(file, 'E', 'block').directions = 'b-to-a')),
      'elements[6] E',
      /only run b to a here, and no route leads on/,
    );
  });

  it('finds two-way blocks that no route leaves', () => {
    expectFault(
      faultsAfter((file) => {
        elementOf(file, 'M', 'block').directions = 'a-to-b';
        elementOf(file, 'S', 'block').directions = 'a-to-b';
      }),
      'elements[6] E',
      /can enter this block but no route leaves/,
    );
  });
});

describe('drawing', () => {
  const drawn =
    (draw: unknown, id = 'W'): Change =>
    (file) => {
      const element = file.elements.find((it) => it.id === id);
      Object.assign(element ?? {}, { draw });
    };

  it.each<[string, Change, string, RegExp]>([
    [
      'without a port',
      drawn({ level: 'ground', ports: { a: [0, 0] } }),
      'elements[1] W draw',
      /port b has no point/,
    ],
    [
      'with a port too many',
      drawn({ level: 'ground', ports: { a: [0, 0], b: [1, 0], c: [2, 0] } }),
      'elements[1] W draw',
      /block has no port c/,
    ],
    [
      'with bends where there are none',
      drawn({ level: 'ground', ports: { a: [0, 0] }, via: [[1, 1]] }, 'WB'),
      'elements[0] WB draw',
      /buffer-stop has no bends/,
    ],
  ])('%s', (_, change, place, text) => expectOnlyFault(faultsAfter(change), place, text));
});

describe('all faults in one go', () => {
  it('names faults of different themes together', () => {
    const faults = faultsAfter((file) => {
      file.levels[0]!.id = '1';
      file.sections[0]!.bus = 'x';
      file.joins.pop();
      elementOf(file, 'M', 'block').detection[0]!.length = mm(0);
      file.stations[0]!.tracks[0]!.blocks = [];
    });
    expectFault(faults, 'levels[0]', /no valid id/);
    expectFault(faults, 'sections[0]', /no bus/);
    expectFault(faults, 'elements[7] EB port a', /nothing is joined/);
    expectFault(faults, 'elements[3] M', /is 0 mm/);
    expectFault(faults, 'stations[0]', /no block/);
  });

  it('does not stumble over an empty or a muddled file', () => {
    expect(validateLayout(layoutOf([], []))).toEqual([]);
    const muddled = faultsAfter((file) => {
      file.elements.push(...file.elements);
      file.joins.push(...file.joins);
    });
    expect(muddled.length).toBeGreaterThan(8);
  });
});
