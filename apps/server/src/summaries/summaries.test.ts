import { sessionSummaryAnswer } from '@blockbell/contract';
import { getRepositoryToken } from '@nestjs/typeorm';
import type { Repository } from 'typeorm';
import { expect, test } from 'vitest';
import { JournalBatch } from '../storage/journal-batch.entity.js';
import { serverOfFile } from '../testing/server-of-file.js';
import { startTestServer } from '../testing/test-server.js';

const server = serverOfFile(startTestServer);

test('a stored session is summarised, with its tables', async () => {
  const [session] = JSON.parse(String((await server.get('/api/sessions')).body)) as {
    id: number;
  }[];
  const { status, body } = await server.get(`/api/sessions/${session!.id}/summary`);
  expect(status).toBe(200);
  const { summary, torn, tables } = sessionSummaryAnswer.parse(body);
  expect(torn).toBeNull();
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

test('what is torn of a journal is left out, and that is said', async () => {
  const by = { by: 'Ann' };
  await server.post('/api/session/command', { ...by, command: { kind: 'power-up' } });
  await server.post('/api/session/command', { ...by, command: { kind: 'cut-power' } });
  const batches = server.app.get<Repository<JournalBatch>>(getRepositoryToken(JournalBatch));
  await expect.poll(() => batches.countBy({ session: 1 })).toBeGreaterThan(0);
  const torn = { session: 1, run: 1, batch: 0 };
  const { inputs } = await batches.findOneByOrFail(torn);
  await batches.update(torn, { inputs: inputs.slice(0, -3) });
  const { status, body } = await server.get('/api/sessions/1/summary');
  expect(status).toBe(200);
  expect(sessionSummaryAnswer.parse(body).torn).toBe(
    'The journal is torn after the beginning of run 1; what came after is left out.',
  );
  await batches.update(torn, { inputs });
  expect((await server.get('/api/sessions/1/summary')).body).toMatchObject({ torn: null });
});

test('only so many are worked out at once; the others are told to come again', async () => {
  const asked = Array.from({ length: 8 }, () => server.get('/api/sessions/1/summary'));
  const answers = await Promise.all(asked);
  const refused = answers.filter(({ status }) => status !== 200);
  expect(refused.length).toBeGreaterThan(0);
  expect(refused.length).toBeLessThan(answers.length);
  for (const answer of refused)
    expect(answer).toMatchObject({ status: 503, body: { refusal: { code: 'summaries-wait' } } });
  expect((await server.get('/api/sessions/1/summary')).status).toBe(200);
});
