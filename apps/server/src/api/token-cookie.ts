import { parseCookie, stringifySetCookie } from 'cookie';
import { SIGN_IN_LASTS } from '../people/sign-ins.js';

const NAME = 'blockbell-sign-in';

/** No script may read it, and no page of another site makes a browser send it. */
const GUARDED = { httpOnly: true, sameSite: 'strict', path: '/' } as const;

/** The token in a request's `Cookie` header. */
export const tokenIn = (header: string | undefined): string | undefined =>
  header === undefined ? undefined : parseCookie(header)[NAME];

/** A `Set-Cookie` header that keeps the token as long as the sign-in lasts. */
export const keepToken = (token: string): string =>
  stringifySetCookie(NAME, token, { ...GUARDED, maxAge: SIGN_IN_LASTS / 1000 });

/** A `Set-Cookie` header that forgets it. */
export const forgetToken = (): string => stringifySetCookie(NAME, '', { ...GUARDED, maxAge: 0 });
