import type { IncomingMessage, ServerResponse } from 'node:http';
import { refuseForeign } from './origin.js';

/** Methods that change nothing. */
const READING = new Set(['GET', 'HEAD', 'OPTIONS']);

/** Turns away requests of foreign pages before anything reads their body. */
export function guardOrigin(
  request: IncomingMessage,
  response: ServerResponse,
  next: () => void,
): void {
  const refusal = refuseForeign(request.headers, !READING.has(request.method ?? ''));
  if (refusal === null) {
    next();
    return;
  }
  response.writeHead(403, { 'Content-Type': 'application/json; charset=utf-8' });
  response.end(JSON.stringify({ ok: false, refusal }));
}
