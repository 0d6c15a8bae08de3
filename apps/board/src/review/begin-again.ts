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

async function begin(message: object): Promise<string | null> {
  try {
    const response = await fetch('/api/session', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(message),
    });
    return response.ok ? null : refusalIn(await response.json());
  } catch {
    return UNREACHABLE;
  }
}

const UNREACHABLE = 'The server cannot be reached; nothing was begun.';
