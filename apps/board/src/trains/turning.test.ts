import { expect, it } from 'vitest';
import { whyNoTurning } from './turning.js';

it('a train turns round only at a stand, and only one that may run with its rear leading', () => {
  expect(whyNoTurning({ activity: 'standing' }, '7', { canReverse: true })).toBeNull();
  expect(whyNoTurning({ activity: 'moving' }, '7', { canReverse: true })).toBe(
    '7 must stand first.',
  );
  for (const unable of [{ canReverse: false }, undefined])
    expect(whyNoTurning({ activity: 'standing' }, '7', unable)).toBe(
      '7 cannot run with its rear leading.',
    );
});
