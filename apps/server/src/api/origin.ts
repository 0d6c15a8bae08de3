import type { IncomingHttpHeaders } from 'node:http';
import type { Refusal } from '@blockbell/railway';
import type { Door } from './door.js';

/**
 * Refuses what a page from elsewhere makes a browser ask: a name that merely resolves to this machine (`Host`), and a page
 * that another site served (`Origin`, `Sec-Fetch-Site`). Programs that are no browser send no origin and are let in.
 */
export function refuseForeign(
  headers: IncomingHttpHeaders,
  changes: boolean,
  door: Door,
): Refusal | null {
  const host = hostOf(`http://${headers.host ?? ''}`);
  if (host === null || !door.answersTo(host.hostname))
    return {
      code: 'foreign-host',
      text: `This server answers only under ${door.names}; open the address it prints at its start.`,
    };
  if (!changes || isOwnPage(headers, door)) return null;
  return {
    code: 'foreign-origin',
    text: 'The request comes from a page of another site, which may not run this railway.',
  };
}

/** A page's cookie goes to every port of its host: where people sign in, the page must be one that this server served. */
function isOwnPage(headers: IncomingHttpHeaders, door: Door): boolean {
  const { origin } = headers;
  const site = headers['sec-fetch-site'];
  if (origin === undefined)
    return site !== 'cross-site' && !(door.ownPageOnly && site === 'same-site');
  const from = hostOf(origin);
  if (from === null || !door.answersTo(from.hostname)) return false;
  // Read with the page's scheme, so that a port that goes without saying is left out of both.
  return !door.ownPageOnly || from.host === hostOf(`${from.protocol}//${headers.host ?? ''}`)?.host;
}

function hostOf(url: string): URL | null {
  if (!URL.canParse(url)) return null;
  const parsed = new URL(url);
  return parsed.hostname === '' ? null : parsed;
}
