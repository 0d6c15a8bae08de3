import type { FindingView } from '@blockbell/contract/messages';
import { expect, it } from 'vitest';
import { keyFindings } from './finding-words.js';

const finding = (from: number, place = 'Pennick'): FindingView => ({
  kind: 'dwell',
  weight: 'breaks',
  services: ['S1'],
  place,
  stations: ['pennick'],
  from,
  until: from,
  missing: 60_000,
  text: 'a minute is missing',
  proposal: { text: 'leave later', changes: [] },
});

it('each finding has a key of its own, though a service calls twice at a station', () => {
  const keys = keyFindings([finding(1), finding(2, 'Lowmarsh'), finding(3)]).map(({ key }) => key);
  expect(new Set(keys).size).toBe(3);
});

it('a finding keeps its key while times move', () => {
  const before = keyFindings([finding(1), finding(3)]);
  const after = keyFindings([finding(61_000), finding(63_000)]);
  expect(after.map(({ key }) => key)).toEqual(before.map(({ key }) => key));
});
