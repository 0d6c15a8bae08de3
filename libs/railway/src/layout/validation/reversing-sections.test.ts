import { describe, expect, it } from 'vitest';
import { elementOf, mutable } from '../../testing/edit.js';
import type { Mutable } from '../../testing/edit.js';
import { expectFault } from '../../testing/expect-fault.js';
import { faultsAfter } from '../../testing/layout-faults.js';
import type { LayoutChange } from '../../testing/layout-faults.js';
import { balloonLoop, reversing } from '../../testing/layout-parts.js';
import type { LayoutFile } from '../layout-file.js';

describe('reversing sections', () => {
  const gaps = (file: Mutable<LayoutFile>) => file.reversingSections[0]!.gaps;

  it.each<[string, LayoutChange, string, RegExp]>([
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
