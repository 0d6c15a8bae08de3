import type { TimetableFile } from '@blockbell/railway';

/** What a check leaves out, in words: services that name no train have no running time. Null where every service has a train. */
export function withoutTrainWords({ openServices = [] }: TimetableFile): string | null {
  const count = openServices.length;
  if (count === 0) return null;
  return count === 1
    ? 'One service names no train: what it needs is looked at in the session, when a train is given to it.'
    : `${count} services name no train: what they need is looked at in the session, when a train is given to each.`;
}
