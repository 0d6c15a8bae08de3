import { compileLayout } from '@blockbell/railway';
import { expect, it } from 'vitest';
import { filesOf } from '../testing/crossings.js';
import { trackName } from './words.js';

it('names whatever only one train may have: track, turnouts, sections, and a divided track that takes one train', () => {
  const layout = compileLayout(filesOf('passing-loop').layout);
  const divided = { ...layout, dividedTracks: [{ id: 'Middle 1', blocks: [], callOn: false }] };
  const { elements, sections } = layout;
  const turnout = elements.find(({ kind }) => kind === 'turnout')!;
  expect(trackName(divided, turnout.index)).toBe(`turnout ${turnout.id}`);
  expect(trackName(divided, elements.length)).toBe(`section ${sections[0]!.id}`);
  expect(trackName(divided, elements.length + sections.length)).toBe('track Middle 1');
});
