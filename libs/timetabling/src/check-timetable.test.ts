import { formatClockText, type StockFile, type TimetableFile, fastTime } from '@blockbell/railway';
import { Rehearsal, ScriptedDispatcher } from '@blockbell/rehearsal';
import { generateRailway } from '@blockbell/simulation';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { applyChanges } from './booking/times.js';
import { checkTimetable, TimetableChecker } from './check-timetable.js';
import type { Finding } from './findings/finding.js';
import { booked, edited, filesOf, type Files } from './testing/crossings.js';

/** Two trains that cross at Pennick three times; on single line everywhere else, one track at either end. */
const { layout, stock, timetable } = filesOf('passing-loop');

const check = (file: TimetableFile, rolling: StockFile = stock): readonly Finding[] => {
  const { faults, findings } = checkTimetable(layout, rolling, file);
  expect(faults).toEqual([]);
  return findings;
};

const kinds = (findings: readonly Finding[]): string[] => [
  ...new Set(findings.map(({ kind }) => kind)),
];

const clock = (minutes: number): string => formatClockText(fastTime(minutes * 60_000));

describe('a timetable', () => {
  it('that can be kept has no finding', () => {
    expect(check(timetable)).toEqual([]);
  });

  it('that can not be read is not looked at further', () => {
    const { faults, findings } = checkTimetable(
      layout,
      stock,
      booked(timetable, 'S3-1', 0, { depart: 'noon' }),
    );
    expect(faults[0]!.text).toContain('"noon" is no time');
    expect(findings).toEqual([]);
  });

  it('is checked anew against what it was before, and as if it were the first', () => {
    const checker = new TimetableChecker(layout, stock);
    checker.check(booked(timetable, 'S3-1', 1, { arrive: '08:06' }));
    checker.check(edited(timetable, (it) => void (it.services[0]!.calls[1]!.tracks = ['2'])));
    expect(checker.check(timetable)).toEqual(checkTimetable(layout, stock, timetable));
    const late = booked(timetable, 'S47-1', 0, { depart: '08:10' });
    expect(checker.check(late)).toEqual(checkTimetable(layout, stock, late));
  });
});

describe('found and named, with what would mend it:', () => {
  it('a running time too short', () => {
    const [finding, ...more] = check(booked(timetable, 'S3-1', 1, { arrive: '08:06' }));
    expect(more).toEqual([]);
    expect(finding).toMatchObject({
      kind: 'running-time',
      weight: 'breaks',
      services: ['S3-1'],
      place: 'Lowmarsh to Pennick',
      stations: ['lowmarsh', 'pennick'],
    });
    expect(finding!.text).toMatch(
      /^S3-1 \(3\) is booked in 1 min from Lowmarsh to Pennick; over its quickest permitted way it takes \d min \d+ s, /,
    );
    expect(finding!.proposal.text).toMatch(/^arrive at Pennick at 08:\d\d instead of 08:06$/);
  });

  it('a dwell too short', () => {
    expect(check(booked(timetable, 'S3-1', 1, { arrive: '08:12:30' }))).toMatchObject([
      {
        kind: 'dwell',
        weight: 'tight',
        services: ['S3-1'],
        place: 'Pennick',
        missing: 30_000,
        text: 'S3-1 (3) is booked to stay 30 s at Pennick, from 08:12:30; its least dwell is 1 min.',
        proposal: { text: 'leave Pennick at 08:13:30 instead of 08:13' },
      },
    ]);
  });

  it('two trains on single line', () => {
    const findings = check(booked(timetable, 'S47-1', 0, { depart: '08:01' }));
    expect(findings).toEqual([]);
    const meeting = edited(timetable, ({ services }) => {
      const [at, loop, end] = services.find(({ id }) => id === 'S47-1')!.calls;
      Object.assign(at!, { depart: '08:14' });
      Object.assign(loop!, { arrive: '08:18', depart: '08:19' });
      Object.assign(end!, { arrive: '08:24' });
    });
    const [finding, ...more] = check(meeting);
    expect(more).toEqual([]);
    expect(finding).toMatchObject({ kind: 'track-conflict', weight: 'breaks' });
    expect([...finding!.services].sort()).toEqual(['S3-1', 'S47-1']);
    expect(finding!.text).toMatch(
      /^S\d+-1 \(\d+\) and S\d+-1 \(\d+\) are both booked on .+, between (Pennick and Highmarsh|Highmarsh and Pennick) from 08:\d\d(:\d\d)? to 08:\d\d(:\d\d)? \(\d min( \d+ s)?\); no choice of permitted ways avoids it\.$/,
    );
    expect(finding!.proposal.text).toMatch(/^let S\d+-1 leave .+ at 08:\d\d instead of 08:\d\d$/);
  });

  it('a working whose next service leaves too soon', () => {
    expect(
      check(booked(timetable, 'S3-2', 0, { depart: '08:18' })).find(
        ({ kind }) => kind === 'turn-round',
      ),
    ).toMatchObject({
      weight: 'breaks',
      services: ['S3-2', 'S3-1'],
      place: 'Highmarsh',
      text: expect.stringContaining(
        'S3-2 leaves Highmarsh at 08:18, before S3-1 has brought 3 there at 08:19; it takes 30 s to be ready.',
      ) as string,
      proposal: { text: 'leave Highmarsh at 08:20 instead of 08:18' },
    });
  });

  it('a working whose next service begins elsewhere', () => {
    const without = edited(timetable, (it) => {
      it.services = it.services.filter(({ id }) => id !== 'S3-2');
      it.workings[0]!.services.splice(1, 1);
    });
    expect(check(without)[0]).toMatchObject({
      kind: 'workings-apart',
      services: ['S3-3', 'S3-1'],
      text: 'S3-3 begins at Lowmarsh at 08:45, but 3 has come to Highmarsh with S3-1.',
      proposal: {
        text: 'put a service from Highmarsh to Lowmarsh between them, or give S3-3 to a train that ends at Lowmarsh',
      },
    });
  });

  it('a train too long for every track', () => {
    const long = structuredClone(stock) as unknown as { cars: { id: string; length: number }[] };
    long.cars.find(({ id }) => id === 'coach')!.length = 2000;
    const findings = check(timetable, long as unknown as StockFile);
    expect(kinds(findings)).toEqual(['too-long']);
    expect(findings.find(({ place }) => place === 'Pennick')!.text).toMatch(
      /^S\d+-\d is booked to stop at Pennick at 08:\d\d with \d+, \d+ mm long; the longest track it may use there holds \d+ mm\.$/,
    );
  });

  it('a station with too few tracks', () => {
    const full = edited(timetable, ({ services }) => {
      services
        .find(({ id }) => id === 'S3-1')!
        .calls.forEach((call, i) => {
          Object.assign(call, [{ depart: '08:21' }, { arrive: '08:27', depart: '08:29' }][i]);
        });
    });
    expect(check(full).find(({ kind }) => kind === 'no-room')).toMatchObject({
      services: ['S47-1', 'S3-1'],
      place: 'Lowmarsh',
      text: 'When S47-1 (1047) is booked to arrive at Lowmarsh at 08:19, no track is left for it in the station: 3 stands there.',
      proposal: { text: 'let S47-1 arrive at 08:22, 3 min later, when 3 has left' },
    });
  });

  it('a conflict after the end of the session, for as long as it lasts', () => {
    const late = edited(timetable, (it) => {
      it.clock.end = '08:05';
      const [at, loop, end] = it.services.find(({ id }) => id === 'S47-1')!.calls;
      Object.assign(at!, { depart: '08:14' });
      Object.assign(loop!, { arrive: '08:18', depart: '08:19' });
      Object.assign(end!, { arrive: '08:24' });
    });
    const conflict = check(late).find(({ kind }) => kind === 'track-conflict')!;
    expect(conflict.from).toBeGreaterThan(Date.UTC(1970, 0, 1, 8, 5));
    expect(conflict.until - conflict.from).toBe(conflict.missing);
    expect(conflict.missing).toBeGreaterThan(60_000);
  });

  it('a connection without time to change, and a service beyond the session', () => {
    const connected = edited(timetable, (it) => {
      Object.assign(it, {
        connections: [
          { from: 'S47-1', to: 'S3-1', station: 'pennick', transfer: 300, holdAtMost: 60 },
        ],
      });
    });
    expect(check(connected)).toMatchObject([
      { kind: 'transfer', services: ['S3-1', 'S47-1'], place: 'Pennick' },
    ]);
    const short = edited(timetable, (it) => Object.assign(it.clock, { end: '08:58' }));
    expect(check(short).map(({ kind, services }) => [kind, services[0]])).toEqual([
      ['outside-session', 'S3-3'],
      ['outside-session', 'S47-3'],
    ]);
  });
});

describe('applying what is proposed', () => {
  it('removes a lone running time or dwell that is too short', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 5 }),
        fc.integer({ min: 1, max: 2 }),
        fc.integer({ min: 1, max: 4 }),
        fc.boolean(),
        (which, call, minutes, stays) => {
          const { id, calls } = timetable.services[which]!;
          const at = Number(calls[call]!.arrive!.slice(3)) + 60 * 8;
          const injected =
            stays && call === 1
              ? booked(timetable, id, 1, { depart: clock(at) })
              : booked(timetable, id, call, { arrive: clock(at - minutes) });
          const [lone, ...more] = check(injected);
          fc.pre(lone !== undefined && more.length === 0);
          const mended = check(applyChanges(injected, lone!.proposal.changes));
          const same = mended.filter(
            ({ kind, services }) => kind === lone!.kind && services[0] === id,
          );
          expect(same).toEqual([]);
        },
      ),
      { numRuns: 12 },
    );
  });
});

/** The timetable as a simulated session ran it, to the second. */
function asRun({ layout, stock, timetable }: Files, seed: number): TimetableFile {
  const rehearsal = new Rehearsal({ layout, stock, timetable, seed });
  const dispatcher = new ScriptedDispatcher(rehearsal);
  const calls = () => rehearsal.state.trains.flatMap((train) => train.calls);
  const all = timetable.services.reduce((sum, service) => sum + service.calls.length, 0);
  while (calls().length < all && rehearsal.now < 3_600_000) {
    rehearsal.runTo(rehearsal.now + 1000);
    dispatcher.look();
  }
  return edited(timetable, ({ services }) => {
    for (const { service, call, arrived, departed } of calls()) {
      const file = services[service]!.calls[call]!;
      const second = (time: number): string => formatClockText(fastTime(time));
      if (file.arrive !== undefined && arrived !== null) file.arrive = second(arrived + 999);
      if (file.depart !== undefined && departed !== null) file.depart = second(departed);
    }
  });
}

/** No locomotive here deviates more from its measured speeds: 10 ‰. */
const SPREAD = 0.01;

describe('times that a simulated session took', () => {
  it.each([
    ['the passing loop', filesOf('passing-loop'), 3],
    [
      'a railway nobody drew',
      generateRailway({ seed: 7, sections: 60, trains: 2, singleLineShare: 0.6, services: 4 }),
      5,
    ],
  ] as const)('are never too short: %s', (_, files, seed) => {
    const { findings } = checkTimetable(files.layout, files.stock, asRun(files, seed));
    // A pass is noted as soon as a detector sees the train, which may be before its head is there.
    const short = findings.filter(
      ({ kind, proposal }) => kind === 'running-time' && proposal.text.startsWith('arrive'),
    );
    // Simulated trains run a little faster or slower than measured, within the spread of their stock.
    expect(short.filter(({ missing, from, until }) => missing > (until - from) * SPREAD)).toEqual(
      [],
    );
  });
});
