import { describe, it } from 'vitest';
import { elementOf, mutable } from '../../testing/edit.js';
import { expectFault } from '../../testing/expect-fault.js';
import { faultsAfter } from '../../testing/layout-faults.js';
import type { LayoutChange } from '../../testing/layout-faults.js';
import { reversing } from '../../testing/layout-parts.js';

describe('names', () => {
  it.each<[string, LayoutChange, string, RegExp]>([
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
  it.each<[string, LayoutChange, string, RegExp]>([
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
