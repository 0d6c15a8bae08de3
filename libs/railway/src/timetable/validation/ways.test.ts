import { describe, expect, it } from 'vitest';
import { compileLayout } from '../../layout/compile-layout.js';
import type { LayoutFile } from '../../layout/layout-file.js';
import { compileStock } from '../../stock/compile-stock.js';
import { edited, elementOf } from '../../testing/edit.js';
import { expectOnlyFault } from '../../testing/expect-fault.js';
import {
  balloonLoop,
  block,
  bufferStop,
  layoutOf,
  passingLoop,
  station,
  turnout,
} from '../../testing/layout-parts.js';
import { twoTrains } from '../../testing/stock-parts.js';
import { call, meet, service, timetableOf } from '../../testing/timetable-parts.js';
import { mm } from '../../units.js';
import type { TimetableFile } from '../timetable-file.js';
import { validateTimetable } from '../validate-timetable.js';

const faultsOn = (layout: LayoutFile, timetable: TimetableFile) =>
  validateTimetable(timetable, compileLayout(layout), compileStock(twoTrains()));

/** P is 700 mm long and may reverse; G is 440 mm long and may not. */
const running = (train: 'P' | 'G', place: string, ...calls: Parameters<typeof service>[1][]) =>
  timetableOf([service('S1', ...calls)], { [train]: 'S1' }, { [train]: place });

describe('ways', () => {
  it('lead round a balloon loop that holds the train', () => {
    const layout = { ...balloonLoop(), stations: [station('Line', 0, ['A'])] };
    const there = running('G', 'A>b', 'Line - 10:00', 'Line 10:20 -');
    expect(faultsOn(layout, there)).toEqual([]);
  });

  it('are refused where the reversing section is too short for the train', () => {
    const layout = { ...balloonLoop(mm(430)), stations: [station('Line', 0, ['A'])] };
    expectOnlyFault(
      faultsOn(layout, running('G', 'A>b', 'Line - 10:00', 'Line 10:20 -')),
      'services[0] S1 calls[1] Line',
      /G is 440 mm long, too long for the reversing section on its only way: R \(430 mm between its gaps\)/,
    );
    // Exactly its length is enough: the tail has left the first gap when the front meets the second.
    const fitting = { ...balloonLoop(mm(440)), stations: [station('Line', 0, ['A'])] };
    expect(faultsOn(fitting, running('G', 'A>b', 'Line - 10:00', 'Line 10:20 -'))).toEqual([]);
  });

  it('are refused where no permitted way leads on', () => {
    const layout = edited(passingLoop(), (file) => {
      elementOf(file, 'M', 'block').directions = 'b-to-a';
      elementOf(file, 'S', 'block').directions = 'b-to-a';
    });
    expectOnlyFault(
      faultsOn(layout, running('P', 'W>b', 'West - 10:00', 'East 10:20 -')),
      'services[0] S1 calls[1] East',
      /no permitted way leads P from where it stands to East/,
    );
  });

  it('are refused to a train that faces away and may not reverse', () => {
    const facingAway = (train: 'P' | 'G') =>
      faultsOn(passingLoop(), running(train, 'W>a', 'West - 10:00', 'East 10:20 -'));
    expect(facingAway('P')).toEqual([]);
    expectOnlyFault(facingAway('G'), 'services[0] S1 calls[1]', /only with its rear leading/);
  });

  it('are refused where no track holds the train', () => {
    expectOnlyFault(
      faultsOn(
        passingLoop({}, 900),
        running('P', 'W>b', 'West - 10:00', 'Loop 10:05 10:10', 'East 10:20 -'),
      ),
      'services[0] S1 calls[1] Loop',
      /P is 700 mm long and fits none of the tracks/,
    );
    // Passing through needs no room to stand.
    expect(
      faultsOn(
        passingLoop({}, 900),
        running('P', 'W>b', 'West - 10:00', 'Loop pass 10:05', 'East 10:20 -'),
      ),
    ).toEqual([]);
  });

  it('are refused where only short tracks are reached', () => {
    const layout = layoutOf(
      [
        bufferStop('E1'),
        block('A'),
        turnout('T'),
        block('Short', 500),
        block('Long'),
        bufferStop('E2'),
        bufferStop('E3'),
      ],
      [
        'E1.a A.a',
        'A.b T.stem',
        'T.straight Short.a',
        'T.diverging Long.a',
        'Short.b E2.a',
        'Long.b E3.a',
      ],
      { stations: [station('Line', 0, ['A']), station('Yard', 1, ['Short'], ['Long'])] },
    );
    const oneWay = edited(layout, (file) => {
      elementOf(file, 'Long', 'block').directions = 'b-to-a';
    });
    const there = running('P', 'A>b', 'Line - 10:00', 'Yard 10:20 -');
    expect(faultsOn(layout, there)).toEqual([]);
    expectOnlyFault(
      faultsOn(oneWay, there),
      'services[0] S1 calls[1] Yard',
      /reaches Yard only in tracks that don't hold its 700 mm/,
    );
  });

  it('set out from the track in which the train ended before', () => {
    const timetable = timetableOf(
      [
        service('S1', 'West - 10:00', call('Loop 10:05 -', { tracks: ['t1'] })),
        service('S2', call('Loop - 10:10', { tracks: ['t2'] }), 'East 10:20 -'),
      ],
      { P: 'S1 S2' },
      { P: 'W>b' },
    );
    expectOnlyFault(
      faultsOn(passingLoop(), timetable),
      'services[1] S2 calls[0] Loop',
      /P stands in none of the tracks named here/,
    );
  });

  it('name each fault once, though later calls depend on it', () => {
    const layout = edited(passingLoop(), (file) => {
      elementOf(file, 'W', 'block').directions = 'b-to-a';
    });
    const faults = faultsOn(layout, meet());
    expectOnlyFault(faults, 'services[0] P1 calls[1] Loop', /no permitted way/);
  });
});
