import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { readSettings } from './settings.js';

test('nothing set: the usual port, the data folder of the working tree, the demo', () => {
  const settings = readSettings({ PORT: '', DATA_DIR: ' ' });
  expect(settings).toMatchObject({ port: 4170, example: 'demo', faults: null });
  expect(settings.dataFolder).toBe(resolve(import.meta.dirname, '../../../../data'));
});

test('what is set is taken', () => {
  expect(
    readSettings({
      PORT: '0',
      DATA_DIR: '/var/lib/railway',
      BLOCKBELL_EXAMPLE: 'passing-loop',
      BLOCKBELL_FAULTS: '/etc/faults.json',
    }),
  ).toEqual({
    port: 0,
    dataFolder: '/var/lib/railway',
    example: 'passing-loop',
    faults: '/etc/faults.json',
  });
});

test.each(['abc', '-1', '65536', '80.5'])('PORT “%s” is refused by name', (PORT) => {
  expect(() => readSettings({ PORT })).toThrow(/PORT/);
});
