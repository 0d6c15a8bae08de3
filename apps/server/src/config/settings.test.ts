import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { readSettings } from './settings.js';

test('nothing set: the usual port, the data folder of the working tree, the demo', () => {
  const settings = readSettings({ PORT: '', DATA_DIR: ' ' });
  expect(settings).toMatchObject({
    port: 4170,
    open: false,
    names: [],
    example: 'demo',
    faults: null,
    planning: true,
  });
  expect(settings.dataFolder).toBe(resolve(import.meta.dirname, '../../../../data'));
});

test('what is set is taken', () => {
  expect(
    readSettings({
      PORT: '0',
      BLOCKBELL_NETWORK: 'open',
      BLOCKBELL_NAMES: 'layout.club, 10.9.8.7,fd12::1',
      DATA_DIR: '/var/lib/railway',
      BLOCKBELL_EXAMPLE: 'passing-loop',
      BLOCKBELL_FAULTS: '/etc/faults.json',
      BLOCKBELL_PLANNING: 'off',
      BLOCKBELL_RECORDINGS: '7',
      BLOCKBELL_RECORDINGS_MB: '250',
    }),
  ).toEqual({
    port: 0,
    open: true,
    names: ['layout.club', '10.9.8.7', 'fd12::1'],
    dataFolder: '/var/lib/railway',
    example: 'passing-loop',
    faults: '/etc/faults.json',
    planning: false,
    recordings: { sessions: 7, megabytes: 250 },
  });
});

test.each(['0', '-3', '1.5', 'many'])('%s recordings are refused by name', (text) => {
  expect(() => readSettings({ BLOCKBELL_RECORDINGS: text })).toThrow(/BLOCKBELL_RECORDINGS is/);
  expect(() => readSettings({ BLOCKBELL_RECORDINGS_MB: text })).toThrow(/RECORDINGS_MB is/);
});

test.each(['abc', '-1', '65536', '80.5'])('PORT “%s” is refused by name', (PORT) => {
  expect(() => readSettings({ PORT })).toThrow(/PORT/);
});

test.each(['yes', '1', 'Open'])('BLOCKBELL_NETWORK “%s” is refused by name', (word) => {
  expect(() => readSettings({ BLOCKBELL_NETWORK: word })).toThrow(
    /BLOCKBELL_NETWORK.*open or closed/,
  );
});

test.each(['http://box', 'box:80', 'a b', '*'])(
  'BLOCKBELL_NAMES “%s” is refused by name',
  (name) => {
    expect(() => readSettings({ BLOCKBELL_NAMES: `fine.club,${name}` })).toThrow(/BLOCKBELL_NAMES/);
  },
);
