import { refusalIn } from '../review/refusal-in.js';

export type Asked<Answer> =
  | { readonly ok: true; readonly answer: Answer }
  /** Why not, in words. */
  | { readonly ok: false; readonly why: string };

const UNREACHABLE = 'The server cannot be reached; nothing was sent.';
const OTHER_VERSION = 'The server speaks another version than this page: load the page again.';

/** What an answer is checked with. */
export interface Schema<Answer> {
  safeParse(
    body: unknown,
  ): { readonly success: true; readonly data: Answer } | { readonly success: false };
}

/** Asks the server for something below /api; what it answers is checked. `signal`: takes the question back. */
export async function request<Answer>(
  method: 'GET' | 'POST' | 'PATCH' | 'DELETE',
  path: string,
  schema: Schema<Answer>,
  message?: object,
  signal: AbortSignal | null = null,
): Promise<Asked<Answer>> {
  try {
    const response = await fetch(`/api/${path}`, {
      method,
      signal,
      ...(message === undefined
        ? {}
        : { headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(message) }),
    });
    const body: unknown = await response.json();
    if (!response.ok) return { ok: false, why: refusalIn(body) };
    const parsed = schema.safeParse(body);
    return parsed.success ? { ok: true, answer: parsed.data } : { ok: false, why: OTHER_VERSION };
  } catch {
    return { ok: false, why: UNREACHABLE };
  }
}
