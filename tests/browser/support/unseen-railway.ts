import { generateRailway } from '@blockbell/simulation';

/** A railway that nobody has drawn or seen, and how many trains run on it. */
export const UNSEEN_TRAINS = 5;
export const unseenRailway = generateRailway({
  seed: 7_411,
  sections: 150,
  trains: UNSEEN_TRAINS,
  services: 20,
  singleLineShare: 0.5,
});
