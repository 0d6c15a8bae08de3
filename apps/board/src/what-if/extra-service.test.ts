import { noAddedWork, type ServiceId, type StationId } from '@blockbell/railway';
import { leverSchema } from '@blockbell/contract/messages';
import { expect, test } from 'vitest';
import { withAddedWork } from '../live/session-files.js';
import { demoRailway } from '../testing/demo-railway.js';
import { extraName, readTime, serviceTo } from './extra-service.js';

const railway = demoRailway();
const { layout, timetable } = railway;

test('a name is proposed that no service has, of those that were added either', () => {
  expect(extraName(railway)).toBe('Extra 1');
  const [begin, end] = layout.stations.map(({ file: station }) => station.id as StationId);
  const calls = [
    { station: begin!, depart: '10:00' },
    { station: end!, arrive: '10:10' },
  ];
  const service = { id: 'added-1' as ServiceId, name: 'Extra 1', calls };
  const added = {
    ...noAddedWork(),
    services: [{ train: 0, file: service }],
    workings: [{ train: 0, services: [timetable.services.length] }],
  };
  const now = withAddedWork(railway, added);
  expect(extraName(now)).toBe('Extra 2');
  expect(now.timetable.workings[0]!.services).toEqual([timetable.services.length]);
  expect(withAddedWork(railway, null)).toBe(railway);
});

test('a time is read as people write it; what is none is told apart from nothing', () => {
  expect(['10:05', ' 9:30 ', '', 'soon', '10.05'].map(readTime)).toEqual([
    '10:05',
    '09:30',
    undefined,
    null,
    null,
  ]);
});

test('the command is one that the server takes', () => {
  const wanted = { name: 'Extra 1', station: layout.stations[0]!.file.id, track: 't1' };
  const now = serviceTo(3, { ...wanted, notBefore: undefined });
  const later = serviceTo(3, { ...wanted, track: '', notBefore: '10:05' });
  expect(leverSchema.parse(now)).toEqual(now);
  expect(leverSchema.parse(later)).toEqual(later);
  expect(later).toMatchObject({ service: { notBefore: '10:05' }, before: null });
});
