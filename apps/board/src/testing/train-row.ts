import type { TrainView } from '@blockbell/contract/messages';

/** A train's row as the server sends it, but for what a test is about. */
export const trainRow = (more: Partial<TrainView> = {}): TrainView => ({
  train: 0,
  activity: 'moving',
  known: 'reported',
  evidence: 'Its decoder was read.',
  doubt: null,
  confirmed: true,
  path: [],
  motion: { head: 1000, speed: 100, target: 100, acceleration: 50, since: 0 },
  mark: 1500,
  length: 400,
  frontLeads: true,
  service: null,
  where: 'W',
  next: null,
  nextFast: null,
  lateness: 0,
  held: false,
  handSpeed: null,
  topSpeed: 300,
  wait: null,
  chain: [],
  ...more,
});
