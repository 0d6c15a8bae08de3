import { sessionSummaryAnswer } from '@blockbell/contract';
import { expect, test } from 'vitest';
import { serverOfFile } from '../testing/server-of-file.js';
import { startTestServer } from '../testing/test-server.js';

const server = serverOfFile(startTestServer);

test('a stored session is summarised, with its tables', async () => {
  const [session] = JSON.parse(String((await server.get('/api/sessions')).body)) as {
    id: number;
  }[];
  const { status, body } = await server.get(`/api/sessions/${session!.id}/summary`);
  expect(status).toBe(200);
  const { summary, tables } = sessionSummaryAnswer.parse(body);
  expect(summary.services.every(({ run, late }) => !run && late === null)).toBe(true);
  expect(summary.locomotives.every(({ verdict }) => verdict === 'not seen')).toBe(true);
  expect(Object.keys(tables)).toEqual(['services', 'alarms', 'locomotives', 'detectors']);
});

test('one that is not there is refused', async () => {
  expect(await server.get('/api/sessions/999/summary')).toMatchObject({
    status: 404,
    body: { refusal: { code: 'unknown-session' } },
  });
});
