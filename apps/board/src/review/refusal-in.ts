import { answerMessage } from '@blockbell/contract/messages';

/** Why a request was refused, from the body of its answer. */
export function refusalIn(body: unknown): string {
  if (typeof body === 'object' && body !== null && 'refusal' in body) {
    const answer = answerMessage.safeParse({ ok: false, refusal: body.refusal });
    if (answer.success && !answer.data.ok) return answer.data.refusal.text;
  }
  return 'The server gave no reason; look at its log.';
}
