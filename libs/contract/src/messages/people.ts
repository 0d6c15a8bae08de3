import { z } from 'zod';

/** What a person may do where people sign in; {@link LEAVE} says what that is. */
export const role = z.enum(['visitor', 'crew', 'dispatcher', 'builder']);
export type Role = z.infer<typeof role>;

const id = z.int().min(1);
const personName = z.string().trim().min(1).max(40);
/**
 * At least 8 characters of any kind, and room for a sentence: NIST SP 800-63B, section 5.1.1.2, which also advises against
 * rules on what they are.
 */
const passphrase = z.string().min(8).max(200);

export const personView = z.strictObject({ id, name: personName, role });
export type PersonView = z.infer<typeof personView>;

/** Who is at the page, and whether it matters. */
export const whoView = z.strictObject({
  ok: z.literal(true),
  /** Whether this server demands a sign-in. */
  signIn: z.boolean(),
  /** Whether the first builder has yet to sign up with the code that the server printed. */
  firstSignUp: z.boolean(),
  /** Who is signed in; null if nobody is. */
  person: personView.nullable(),
});
export type WhoView = z.infer<typeof whoView>;

export const signInMessage = z.strictObject({
  name: personName,
  passphrase: z.string().min(1).max(200),
});
export type SignInMessage = z.infer<typeof signInMessage>;

export const firstSignUpMessage = z.strictObject({
  /** As the server printed it at its start. */
  code: z.string().trim().min(1).max(40),
  name: personName,
  passphrase,
});
export type FirstSignUpMessage = z.infer<typeof firstSignUpMessage>;

export const newPersonMessage = z.strictObject({ name: personName, role, passphrase });
export type NewPersonMessage = z.infer<typeof newPersonMessage>;

export const changedPersonMessage = z
  .strictObject({ role: role.optional(), passphrase: passphrase.optional() })
  .refine((change) => change.role !== undefined || change.passphrase !== undefined, {
    error: 'names neither a role nor a passphrase',
  });
export type ChangedPersonMessage = z.infer<typeof changedPersonMessage>;

export const personAnswer = z.strictObject({ ok: z.literal(true), person: personView });
export type PersonAnswer = z.infer<typeof personAnswer>;

export const peopleView = z.strictObject({ ok: z.literal(true), people: z.array(personView) });

/** The reason a socket is turned away with when nobody is signed in. */
export const NOT_SIGNED_IN = 'not-signed-in';
