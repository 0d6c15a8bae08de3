import type { IncomingHttpHeaders } from 'node:http';
import type { Refusal } from '@blockbell/railway';

/** Names under which this machine reaches itself. */
const LOOPBACK = new Set(['127.0.0.1', 'localhost', '[::1]']);

const isLoopback = (host: string): boolean => LOOPBACK.has(host);

/**
 * Refuses what a page from elsewhere makes a browser ask: a name that merely resolves to this machine (`Host`), and a page
 * that another site served (`Origin`, `Sec-Fetch-Site`). Programs that are no browser send no origin and are let in.
 */
export function refuseForeign(headers: IncomingHttpHeaders, changes: boolean): Refusal | null {
  const host = hostName(`http://${headers.host ?? ''}`);
  if (host === null || !isLoopback(host))
    return {
      code: 'foreign-host',
      text: 'This server answers only under 127.0.0.1, localhost or [::1]; open the address it prints at its start.',
    };
  if (!changes) return null;
  const { origin } = headers;
  const from = origin === undefined ? null : hostName(origin);
  const foreign =
    origin === undefined ? headers['sec-fetch-site'] === 'cross-site' : !from || !isLoopback(from);
  return foreign
    ? {
        code: 'foreign-origin',
        text: 'The request comes from a page of another site, which may not run this railway.',
      }
    : null;
}

function hostName(url: string): string | null {
  return URL.canParse(url) ? new URL(url).hostname || null : null;
}
