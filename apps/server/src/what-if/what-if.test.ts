import { whatIfView, type WhatIfView } from '@blockbell/contract';
import { expect, test } from 'vitest';
import { beginSession, giveTo } from '../testing/begin-session.js';
import { serverOfFile } from '../testing/server-of-file.js';
import { startTestServer, type Answer } from '../testing/test-server.js';

const server = serverOfFile(startTestServer);

const ask = (command: object): Promise<Answer> => server.post('/api/what-if', { command });
const give = (command: object): Promise<Answer> => giveTo(server, command);
const HOLD = { kind: 'hold-train', train: 0, hold: true };

test('nothing is foretold before the session runs', async () => {
  expect(await ask(HOLD)).toMatchObject({
    status: 409,
    body: { ok: false, refusal: { code: 'not-running' } },
  });
});

test('what is no lever, or names nothing of this session, is refused', async () => {
  expect((await ask({ kind: 'cut-power' })).status).toBe(400);
  expect((await ask({ kind: 'hold-train', train: 99, hold: true })).status).toBe(404);
});

test('the effect of a hold is told, and nothing is done', async () => {
  await give({ kind: 'power-up' });
  await expect.poll(() => beginSession(server), { timeout: 10_000 }).toBe(200);
  const { status, body } = await ask(HOLD);
  expect(status).toBe(200);
  const told: WhatIfView = whatIfView.parse(body);
  expect(told.refusal).toBeNull();
  expect(told.until - told.from).toBe(30 * 60_000);
  expect(told.changes.some(({ train, after }) => train === 0 && after === null)).toBe(true);
  const picture = (await server.get('/api/session')).body;
  expect(JSON.stringify(picture)).not.toContain('"held":true');
});
