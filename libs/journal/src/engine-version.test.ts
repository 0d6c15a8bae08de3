import { describe, expect, it } from 'vitest';
import { isCode } from './engine-version.js';

describe('the code that the version of the engine is a hash over', () => {
  it.each(['index.ts', 'session/step.ts', 'dispatching/shortest-way.ts'])('has %s', (file) => {
    expect(isCode(file)).toBe(true);
  });

  it.each([
    'session/step.test.ts',
    'testing/edit.ts',
    'dispatching/testing/positions.ts',
    'test-support/rig.ts',
    'notes.md',
  ])('has not %s, which decides nothing', (file) => {
    expect(isCode(file)).toBe(false);
  });
});
