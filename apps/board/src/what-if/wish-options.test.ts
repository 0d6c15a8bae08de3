import { expect, test } from 'vitest';
import { demoRailway } from '../testing/demo-railway.js';
import { trainRow } from '../testing/train-row.js';
import { cancelOptions, firstOptions, trackOptions } from './wish-options.js';

const railway = demoRailway();
const { timetable } = railway;

/** A train at work, the calls of its first service to come. */
const train = timetable.workings.findIndex((working) => (working?.services.length ?? 0) > 2);
const work = timetable.workings[train]!.services;
const [first, second] = work as [number, number];
const calls = timetable.services[first]!.calls.map((_, call) => ({
  service: first,
  call,
  arrive: call === 0 ? null : 36_000_000,
  depart: null,
}));
const row = trainRow({ train, forecast: { by: 'plan', calls } });

test('a track is offered where the timetable leaves a choice, but the one that was chosen', () => {
  const offered = trackOptions(row, railway);
  const open = timetable.services[first]!.calls.slice(1).filter(({ tracks }) => tracks.length > 1);
  expect(open.length).toBeGreaterThan(0);
  expect(offered).toHaveLength(open.reduce((sum, { tracks }) => sum + tracks.length, 0));
  expect(offered[0]!.text).toMatch(/^.+ at .+, about 10:00$/);
  const { command } = offered[0]!;
  if (command.kind !== 'choose-track') throw new Error('it is a track');
  const { service, call, track } = command;
  const wishes = { tracks: [{ service, call, track: track! }], before: [], cancelled: [] };
  expect(trackOptions({ ...row, wishes }, railway)).toHaveLength(offered.length - 1);
});

test('it may go before every other train on the layout that it does not go before already', () => {
  const others = [row, trainRow({ train: 1 }), trainRow({ train: 2 })];
  const absent = trainRow({ train: 3, activity: 'absent' });
  const wishes = { tracks: [], before: [2], cancelled: [] };
  const offered = firstOptions({ ...row, wishes }, [...others, absent], railway);
  expect(offered.map(({ command }) => command)).toEqual([
    { kind: 'go-first', train, before: 1, first: true },
  ]);
});

test('services to come are offered alone and with the next', () => {
  const offered = cancelOptions(row, railway);
  expect(offered.slice(0, 2).map(({ command }) => command)).toEqual([
    { kind: 'cancel-services', train, service: first, through: first },
    { kind: 'cancel-services', train, service: first, through: second },
  ]);
  const wishes = { tracks: [], before: [], cancelled: [first, second] };
  expect(cancelOptions({ ...row, wishes }, railway)[0]?.command).toMatchObject({
    service: work[2],
  });
});
