import { expect, it } from 'vitest';
import { signed } from './signed.js';

it('writes a minus sign, not a hyphen, and nothing before what is not below 0', () => {
  expect([-3, 0, 12, '-0.5', '7.0'].map(signed)).toEqual(['−3', '0', '12', '−0.5', '7.0']);
});
