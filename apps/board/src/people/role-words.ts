import type { Role } from '@blockbell/contract/messages';

/** What each role does, for those who choose one. */
export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  visitor: 'visitor: looks on',
  crew: 'crew: drives its train',
  dispatcher: 'dispatcher: runs the session',
  builder: 'builder: may do everything',
};

export const ROLES = Object.keys(ROLE_WORDS) as readonly Role[];
