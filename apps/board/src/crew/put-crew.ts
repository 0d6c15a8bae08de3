import { answerMessage } from '@blockbell/contract/messages';
import { request } from '../people/requests.js';

/** Has the server put a person on a train, or nobody. Null once it is so, else why not. */
export async function putCrew(
  by: string,
  train: number,
  crew: string | null,
): Promise<string | null> {
  const asked = await request('POST', 'session/crew', answerMessage, { by, train, crew });
  return asked.ok ? null : asked.why;
}
