import type { IncomingMessage, ServerResponse } from 'node:http';
import type { Refusal } from '@blockbell/railway';
import type { Door } from './door.js';
import { refuseForeign } from './origin.js';

/** Methods that change nothing. */
const READING = new Set(['GET', 'HEAD', 'OPTIONS']);

/** Turns away peers from far and requests of foreign pages, before anything reads their body. */
export const guardOrigin =
  (door: Door) =>
  (request: IncomingMessage, response: ServerResponse, next: () => void): void => {
    const refusal = refuseAtDoor(request, !READING.has(request.method ?? ''), door);
    if (refusal === null) {
      next();
      return;
    }
    response.writeHead(403, { 'Content-Type': 'application/json; charset=utf-8' });
    response.end(JSON.stringify({ ok: false, refusal }));
  };

/** Refuses peers from far, and what pages from elsewhere make a browser ask. */
export function refuseAtDoor(
  request: IncomingMessage,
  changes: boolean,
  door: Door,
): Refusal | null {
  if (!door.hears(request.socket.remoteAddress))
    return {
      code: 'far-away',
      text: 'This server is for the local network; your address is not in it.',
    };
  return refuseForeign(request.headers, changes, door);
}
