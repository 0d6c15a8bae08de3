import { blockOf, type Heading, type Layout, type Station } from '@blockbell/railway';

/** The station in one of whose tracks a heading lies; null where it lies in none. */
export const stationAt = ({ stations }: Layout, heading: Heading): Station | null =>
  stations.find(({ tracks }) => tracks.some(({ blocks }) => blocks.includes(blockOf(heading)))) ??
  null;
