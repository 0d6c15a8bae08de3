import { PASSPHRASE } from '../../support/add-people.mjs';
import type { BoardPage } from './board-page.js';

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
