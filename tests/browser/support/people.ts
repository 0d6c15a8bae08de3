import { expect } from 'vitest';
import { actAs } from '../../support/drive-session.mjs';
import type { ServerProcess } from '../../support/server-process.mjs';
import type { BoardPage } from './board-page.js';

export const PASSPHRASE = 'a lamp at every signal';
const CODE = /with this code: ([A-Z2-9]{5}-[A-Z2-9]{5})/;

/** The code for the first sign-up, as the server printed it. */
export async function firstCode(server: ServerProcess): Promise<string> {
  const [, code = ''] = await server.printed(CODE);
  return code;
}

async function post(server: ServerProcess, path: string, message: object, cookie = '') {
  const answer = await fetch(new URL(`api/${path}`, server.address), {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', Cookie: cookie },
    body: JSON.stringify(message),
  });
  expect(answer.ok).toBe(true);
  return answer.headers.get('set-cookie')?.split(';')[0] ?? '';
}

/** Has the first builder, Bea, sign up, and adds the others by role; from then on everything is driven as Bea. */
export async function peopleAt(
  server: ServerProcess,
  others: Readonly<Record<string, string>>,
): Promise<void> {
  const bea = { name: 'Bea', passphrase: PASSPHRASE };
  const cookie = await post(server, 'sign-in/first', { ...bea, code: await firstCode(server) });
  for (const [name, role] of Object.entries(others))
    await post(server, 'people', { name, role, passphrase: PASSPHRASE }, cookie);
  actAs(cookie);
}

/** Signs in on the page as somebody does who sits at it. */
export async function signIn({ page }: BoardPage, name: string): Promise<void> {
  const form = page.getByRole('form', { name: 'Sign in' });
  await form.getByLabel('Name').fill(name);
  await form.getByLabel('Passphrase').fill(PASSPHRASE);
  await form.getByRole('button', { name: 'Sign in' }).click();
  await form.waitFor({ state: 'detached' });
}

/** What the server says to a command that the page never offered; sent as the page's own scripts would. */
export const sentByHand = ({ page }: BoardPage, command: object): Promise<string> =>
  page.evaluate(async (given) => {
    const answer = await fetch('/api/session/command', {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ by: 'Somebody else', command: given }),
    });
    const { refusal } = (await answer.json()) as { refusal?: { text: string } };
    return `${answer.status} ${refusal?.text ?? ''}`;
  }, command);
