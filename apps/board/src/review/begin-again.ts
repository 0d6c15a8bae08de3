import { answerMessage } from '@blockbell/contract/messages';
import { request } from '../people/requests.js';
import { refusalIn } from './refusal-in.js';

/** Begins a session on the files of another, with every train stored where that one left it. Null, or why not. */
export const beginAfter = (by: string, session: number): Promise<string | null> =>
  begin({ by, after: session });

/** Begins a session on the files of another, with every train stored where that one began. Null, or why not. */
export async function beginAsBefore(by: string, session: number): Promise<string | null> {
  try {
    const response = await fetch(`/api/sessions/${session}/files`);
    if (!response.ok) return refusalIn(await response.json());
    return await begin({ by, files: await response.json() });
  } catch {
    return UNREACHABLE;
  }
}

/** Begins a session. Null, or why not. */
export async function begin(message: object): Promise<string | null> {
  const asked = await request('POST', 'session', answerMessage, message);
  return asked.ok ? null : asked.why;
}

const UNREACHABLE = 'The server cannot be reached; nothing was begun.';
