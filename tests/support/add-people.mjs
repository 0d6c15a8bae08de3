// Has people sign up at a server that is open to the network, for tests and pictures of the board.
import { actAs } from './drive-session.mjs';

export const PASSPHRASE = 'a lamp at every signal';
const CODE = /with this code: ([A-Z2-9]{5}-[A-Z2-9]{5})/;

/**
 * The code for the first sign-up, as the server printed it.
 * @param {import('./server-process.mjs').ServerProcess} server
 */
export async function firstCode(server) {
  const [, code = ''] = await server.printed(CODE);
  return code;
}

/**
 * Has the first builder, Bea, sign up, and adds the others by role; from then on everything is driven as Bea.
 * @param {import('./server-process.mjs').ServerProcess} server
 * @param {Readonly<Record<string, string>>} others
 */
export async function addPeople(server, others) {
  const bea = { name: 'Bea', passphrase: PASSPHRASE };
  const cookie = await post(server, 'sign-in/first', { ...bea, code: await firstCode(server) });
  for (const [name, role] of Object.entries(others))
    await post(server, 'people', { name, role, passphrase: PASSPHRASE }, cookie);
  actAs(cookie);
}

async function post(server, path, message, cookie = '') {
  const answer = await fetch(new URL(`api/${path}`, server.address), {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', Cookie: cookie },
    body: JSON.stringify(message),
  });
  if (!answer.ok) throw new Error(`${path}: ${await answer.text()}`);
  return answer.headers.get('set-cookie')?.split(';')[0] ?? '';
}
