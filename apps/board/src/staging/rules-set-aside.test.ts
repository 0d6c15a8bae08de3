import type { StagingRulesFile } from '@blockbell/railway';
import { expect, it } from 'vitest';
import { RulesSetAside } from './rules-set-aside.js';

const rules = (layout: string, name: string): StagingRulesFile => ({
  kind: 'blockbell-staging-rules',
  version: 1,
  id: 'rules',
  name,
  layout,
  yards: [],
});

it('rules in the making come back with their layout, with what they were before', () => {
  const aside = new RulesSetAside();
  const valley = {
    file: rules('valley', 'Evening'),
    before: [rules('valley', 'Staging rules')],
    unsaved: true,
  };
  aside.put(valley);
  expect(aside.take('loop')).toBeNull();
  expect(aside.take('valley')).toBe(valley);
  expect(aside.take('valley')).toBeNull();
});

it('what is saved nowhere is told, and only that', () => {
  const aside = new RulesSetAside();
  expect(aside.words).toBeNull();
  aside.put({ file: rules('loop', 'Saved'), before: [], unsaved: false });
  expect(aside.words).toBeNull();
  aside.put({ file: rules('valley', 'Evening'), before: [], unsaved: true });
  expect(aside.words).toMatch(/^Not saved yet: “Evening” for valley\./);
  aside.take('valley');
  expect(aside.words).toBeNull();
});
