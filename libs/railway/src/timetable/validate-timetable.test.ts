import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileLayout } from '../layout/compile-layout.js';
import { compileStock } from '../stock/compile-stock.js';
import { edited } from '../testing/edit.js';
import type { Mutable } from '../testing/edit.js';
import { expectFault, expectOnlyFault } from '../testing/expect-fault.js';
import { damaged } from '../testing/fuzz.js';
import { passingLoop } from '../testing/layout-parts.js';
import { meetAtPlatform, sharedPlatform, twoEngines } from '../testing/shared-platform.js';
import { twoTrains } from '../testing/stock-parts.js';
import { call, meet, service } from '../testing/timetable-parts.js';
import { compileTimetable } from './compile-timetable.js';
import type { TimetableFile } from './timetable-file.js';
import { validateTimetable } from './validate-timetable.js';

type Change = (file: Mutable<TimetableFile>) => void;
const layout = compileLayout(passingLoop());
const stock = compileStock(twoTrains());
const faultsAfter = (change: Change) => validateTimetable(edited(meet(), change), layout, stock);

describe('validateTimetable', () => {
  it('finds nothing in a sound timetable', () => {
    expect(validateTimetable(meet(), layout, stock)).toEqual([]);
  });

  it('examines what it can without layout and stock', () => {
    expect(validateTimetable(meet(), null, null)).toEqual([]);
    const file = edited(meet(), (it) => {
      it.services[0]!.calls[0]!.station = 'Nowhere';
      it.services[0]!.calls[1]!.arrive = '10:99';
    });
    expectFault(
      validateTimetable(file, null, null),
      'services[0] P1 calls[1]',
      /"10:99" is no time/,
    );
  });

  it('never stumbles, and what it passes compiles', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(), fc.nat(3), fc.nat()), { minLength: 1, maxLength: 4 }),
        (damage) => {
          const file = damaged(meet(), damage);
          expect(() => {
            if (validateTimetable(file, layout, stock).length === 0) {
              compileTimetable(file, layout, stock);
            }
          }).not.toThrow();
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('files that belong together', () => {
  it.each<['layout' | 'stock']>([['layout'], ['stock']])('%s', (what) => {
    expectOnlyFault(
      faultsAfter((file) => void (file[what] = 'other')),
      what,
      new RegExp(`written for the ${what} other, not for test-${what}`),
    );
  });
});

describe('calls', () => {
  it.each<[string, Change, string, RegExp]>([
    [
      'a service id twice',
      (file) => void (file.services[1]!.id = 'P1'),
      'services[1] P1',
      /already used/,
    ],
    [
      'a start that is no time',
      (file) => void (file.clock.start = '9'),
      'clock start',
      /"9" is no time/,
    ],
    [
      'an end before the start',
      (file) => void (file.clock.end = '08:00'),
      'clock end',
      /not after its start/,
    ],
    [
      'a clock that stands',
      (file) => void (file.clock.ratio = 0),
      'clock ratio',
      /ratio of the fast clock is 0/,
    ],
    [
      'a departure before the session',
      (file) => void (file.clock.start = '09:59'),
      'services[2] G1',
      /departs before the session's start/,
    ],
    [
      'an arrival after the session',
      (file) => void (file.clock.end = '10:39'),
      'services[1] P2',
      /arrives after the session's end/,
    ],
    [
      'a single call',
      (file) => void file.services[0]!.calls.splice(1),
      'services[0] P1',
      /fewer than two/,
    ],
    [
      'an unknown station',
      (file) => void (file.services[0]!.calls[1]!.station = 'x'),
      'services[0] P1 calls[1] x',
      /no station x/,
    ],
    [
      'an unknown track',
      (file) => void (file.services[0]!.calls[1]!.tracks = ['t9']),
      'services[0] P1 calls[1] Loop',
      /no track of Loop called t9/,
    ],
    [
      'an empty list of tracks',
      (file) => void (file.services[0]!.calls[1]!.tracks = []),
      'services[0] P1 calls[1] Loop',
      /no track to use/,
    ],
    [
      'a first call with an arrival',
      (file) => void (file.services[0]!.calls[0]!.arrive = '09:59'),
      'services[0] P1 calls[0]',
      /first call has an arrival/,
    ],
    [
      'a last call with a departure',
      (file) => void (file.services[0]!.calls[2]!.depart = '10:20'),
      'services[0] P1 calls[2]',
      /last call has a departure/,
    ],
    [
      'a call without an arrival',
      (file) => void delete file.services[0]!.calls[1]!.arrive,
      'services[0] P1 calls[1]',
      /no arrival/,
    ],
    [
      'a call without a departure',
      (file) => void delete file.services[0]!.calls[1]!.depart,
      'services[0] P1 calls[1]',
      /no departure/,
    ],
    [
      'a service that begins by passing',
      (file) => void (file.services[0]!.calls[0]!.stop = 'pass'),
      'services[0] P1 calls[0]',
      /begin or end by passing/,
    ],
    [
      'a pass without a time',
      (file) => void delete file.services[1]!.calls[1]!.depart,
      'services[1] P2 calls[1]',
      /pass has no time/,
    ],
    [
      'times that do not rise',
      (file) => void (file.services[0]!.calls[1]!.arrive = '10:00'),
      'services[0] P1 calls[1] Loop arrive',
      /10:00 does not come after 10:00/,
    ],
    [
      'a departure before the arrival',
      (file) => void (file.services[0]!.calls[1]!.depart = '10:04'),
      'services[0] P1 calls[1] Loop depart',
      /10:04 does not come after 10:05/,
    ],
    [
      'a negative dwell',
      (file) => void (file.services[0]!.calls[1]!.dwell = { fast: -1, real: 0 }),
      'services[0] P1 calls[1]',
      /dwell on the fast clock is -1 s/,
    ],
  ])('%s', (_, change, place, text) => expectFault(faultsAfter(change), place, text));

  it('may stand for no time, and run past midnight', () => {
    const faults = faultsAfter((file) => {
      file.services[0]!.calls[1]!.depart = '10:05';
      file.clock.end = '26:00';
      file.services[1]!.calls[2]!.arrive = '25:10';
    });
    expect(faults).toEqual([]);
  });
});

describe('workings', () => {
  it.each<[string, Change, string, RegExp]>([
    [
      'an unknown train',
      (file) => void (file.workings[0]!.train = 'x'),
      'workings[0]',
      /no train x/,
    ],
    [
      'an unknown service',
      (file) => void file.workings[0]!.services.push('x'),
      'workings[0] work-P',
      /no service x/,
    ],
    [
      'no service',
      (file) => void (file.workings[1]!.services = []),
      'workings[1] work-G',
      /has no service/,
    ],
    [
      'a service that nobody runs',
      (file) => void file.workings[0]!.services.pop(),
      'services[1] P2',
      /no working contains/,
    ],
    [
      'a service run twice',
      (file) => void file.workings[1]!.services.push('P2'),
      'workings[1] work-G',
      /service P2 is already used by workings\[0\] work-P/,
    ],
    [
      'a train with two workings',
      (file) => void (file.workings[1]!.train = 'P'),
      'workings[1] work-G',
      /train P is already used/,
    ],
    [
      'a service that begins elsewhere',
      (file) => void (file.services[1]!.calls[0]!.station = 'Loop'),
      'workings[0] work-P',
      /P2 begins at Loop, but P1 ends at East/,
    ],
    [
      'a service that begins too early',
      (file) => void (file.services[1]!.calls[0]!.depart = '10:11'),
      'workings[0] work-P',
      /P2 departs at 10:11, before P1 arrives at 10:12/,
    ],
  ])('with %s', (_, change, place, text) => expectFault(faultsAfter(change), place, text));
});

describe('connections', () => {
  const connected =
    (more: object): Change =>
    (file) =>
      void file.connections.push({
        from: 'G1',
        to: 'P1',
        station: 'Loop',
        transfer: 60,
        holdAtMost: 300,
        ...more,
      });

  it('that can be kept are sound', () => {
    expect(faultsAfter(connected({}))).toEqual([]);
  });

  it.each<[string, object, RegExp]>([
    ['from an unknown service', { from: 'x' }, /no service x/],
    ['to itself', { to: 'G1' }, /connect to itself/],
    ['where the first does not arrive', { station: 'East' }, /G1 does not arrive at East/],
    [
      'where the second does not depart',
      { from: 'P2', to: 'G1', station: 'West' },
      /G1 does not depart from West/,
    ],
    ['with too little time', { transfer: 241 }, /less than the 241 s/],
    ['with a negative transfer', { transfer: -1 }, /transfer is -1/],
    ['with a negative wait', { holdAtMost: -1 }, /longest wait is -1/],
  ])('%s', (_, more, text) => expectFault(faultsAfter(connected(more)), 'connections[0]', text));
});

describe('stored places', () => {
  it.each<[string, Change, string, RegExp]>([
    [
      'of an unknown train',
      (file) => void (file.storedPlaces[0]!.train = 'x'),
      'storedPlaces[0] x',
      /no train x/,
    ],
    [
      'in an unknown block',
      (file) => void (file.storedPlaces[0]!.block = 'x'),
      'storedPlaces[0] P',
      /no block x/,
    ],
    [
      'in a turnout',
      (file) => void (file.storedPlaces[0]!.block = 'TW'),
      'storedPlaces[0] P',
      /no block TW/,
    ],
    [
      'in one block',
      (file) => void (file.storedPlaces[1]!.block = 'W'),
      'storedPlaces[1] G',
      /block W is already used by storedPlaces\[0\] P/,
    ],
    [
      'of one train twice',
      (file) => void file.storedPlaces.push({ train: 'P', block: 'M', towards: 'b' }),
      'storedPlaces[2] P',
      /train P is already used/,
    ],
    [
      'missing for a train with work',
      (file) => void file.storedPlaces.pop(),
      'workings[1] work-G',
      /G has work but no stored place/,
    ],
    [
      'elsewhere than the work begins',
      (file) => void (file.storedPlaces[0]!.block = 'M'),
      'workings[0] work-P',
      /P1 begins at West, but the train is stored in M/,
    ],
  ])('%s', (_, change, place, text) => expectFault(faultsAfter(change), place, text));

  it('too short for the train', () => {
    const short = compileLayout(passingLoop({}, 900));
    const file = edited(meet(), (it) => {
      it.storedPlaces[0]!.block = 'S';
    });
    expectFault(
      validateTimetable(file, short, stock),
      'storedPlaces[0] P',
      /train is 700 mm long, but S holds 640 mm/,
    );
  });

  it('in one track of a station, unless a second train may be called on there', () => {
    const together = edited(meetAtPlatform(), (it) => {
      it.storedPlaces = [
        { train: 'P', block: 'PA', towards: 'b' },
        { train: 'Q', block: 'PB', towards: 'a' },
      ] as typeof it.storedPlaces;
    });
    const faultsWith = (callOn: boolean) =>
      validateTimetable(
        together,
        compileLayout(sharedPlatform(callOn)),
        compileStock(twoEngines()),
      );
    const shared = /P is stored in track Middle 1 too/;
    expectFault(faultsWith(false), 'storedPlaces[1] Q', shared);
    expect(faultsWith(true).map(({ text }) => text)).not.toContainEqual(
      expect.stringMatching(shared),
    );
  });
});

describe('the rest of a fault list', () => {
  it('still names everything else when one service is broken', () => {
    const faults = faultsAfter((file) => {
      file.services.push(service('X', call('Loop - 10:00'), call('Moon 10:10 -')) as never);
      file.storedPlaces.pop();
      file.clock.ratio = -1;
    });
    expectFault(faults, 'services[3] X calls[1] Moon', /no station Moon/);
    expectFault(faults, 'services[3] X', /no working contains/);
    expectFault(faults, 'workings[1] work-G', /no stored place/);
    expectFault(faults, 'clock ratio', /-1/);
  });
});
