import { expect, it } from 'vitest';
import { LabelMovers } from './label-movers.js';

const element = (): HTMLElement => ({ style: { transform: '' } }) as HTMLElement;

it('moves all that is of a train, what is put on later too, by whole pixels, until it is taken off', () => {
  const movers = new LabelMovers();
  const [label, leader, other] = [element(), element(), element()];
  const takeOff = movers.mover(1)(label);
  movers.mover(2)(other);
  movers.move(1, [10.4, 20.6]);
  movers.mover(1)(leader);
  expect([label, leader, other].map(({ style }) => style.transform)).toEqual([
    'translate(10px, 21px)',
    'translate(10px, 21px)',
    '',
  ]);
  takeOff();
  movers.move(1, [11, 21]);
  expect(label.style.transform).toBe('translate(10px, 21px)');
  expect(leader.style.transform).toBe('translate(11px, 21px)');
});

it('touches nothing that moves by less than a pixel', () => {
  const movers = new LabelMovers();
  const label = element();
  movers.mover(1)(label);
  movers.move(1, [10, 20]);
  label.style.transform = 'untouched';
  movers.move(1, [10.3, 19.8]);
  expect(label.style.transform).toBe('untouched');
});
