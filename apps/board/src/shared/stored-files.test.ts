import type { StoredFileView } from '@blockbell/contract/messages';
import { expect, it } from 'vitest';
import { fileChoice, filesFor } from './stored-files.js';

const file = (
  hash: string,
  kind: StoredFileView['kind'],
  layout: string | null,
): StoredFileView => ({ hash, kind, layout, name: 'Evening', storedAt: '2030-01-01T00:00:00Z' });

it('files are chosen from those of the kind that are for the layout', () => {
  const fits = file('a1', 'timetable', 'valley');
  const files = [
    fits,
    file('b2', 'timetable', 'loop'),
    file('c3', 'staging-rules', 'valley'),
    file('d4', 'layout', 'valley'),
    file('e5', 'stock', null),
  ];
  expect(filesFor(files, 'timetable', 'valley')).toEqual([fits]);
  expect(filesFor(files, 'staging-rules', 'loop')).toEqual([]);
});

it('two files of one name are told apart', () => {
  expect(fileChoice(file('a1', 'timetable', 'valley'))).toBe('Evening (a1)');
  expect(fileChoice(file('b2', 'timetable', 'valley'))).toBe('Evening (b2)');
});
