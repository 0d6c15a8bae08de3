import { whyNot, type Act, type PersonView } from '@blockbell/contract';
import { refusal, type Refusal } from '@blockbell/railway';

/** Who asks; null where nobody signs in and everybody may do everything. */
export type Asker = PersonView | null;

/** Refuses what the asker's role doesn't allow; `own` says whether it is about the train they are crew of. */
export function refuseAct(asker: Asker, act: Act, own = false): Refusal | null {
  const why = asker === null ? null : whyNot(asker.role, act, own);
  return why === null ? null : refusal('not-allowed', why);
}

export const SIGN_IN_FIRST = refusal('not-signed-in', 'Sign in first.');
