import { expect, it } from 'vitest';
import { trainRow } from '../testing/train-row.js';
import { tellsTheSame } from './told-train.js';

const row = trainRow();

it('tells the same of a train that goes on over the way it holds', () => {
  const { motion, path } = row;
  const further = { ...row, motion: { ...motion, head: 1200 }, path: [...path], mark: 1700 };
  expect(tellsTheSame(row, further)).toBe(true);
});

it.each([{ where: 'E' }, { lateness: 60 }, { wait: 'T1 waits' }, { forecast: null }])(
  'tells something else when this is new: %o',
  (change) => {
    expect(tellsTheSame(row, { ...row, ...change })).toBe(false);
    expect(tellsTheSame({ ...row, ...change }, row)).toBe(false);
  },
);
