import { timetableCheckView } from '@blockbell/contract';
import { exampleFiles } from '@blockbell/examples';
import { expect, test } from 'vitest';
import { serverOfFile } from '../testing/server-of-file.js';
import { startTestServer } from '../testing/test-server.js';

const server = serverOfFile(startTestServer);

const { timetable } = exampleFiles('passing-loop');
const check = (body: object) => server.post('/api/timetables/check', body);

test('the session’s own timetable is checked where none is given', async () => {
  expect(await check({})).toMatchObject({
    status: 200,
    body: { ok: true, faults: [], findings: [] },
  });
});

test('a changed timetable is checked as it is sent, and by its hash once it is stored', async () => {
  const late = JSON.parse(timetable.replace('"arrive": "08:11"', '"arrive": "08:06"')) as object;
  const sent = timetableCheckView.parse((await check({ timetable: late })).body);
  expect(sent.findings).toMatchObject([{ kind: 'running-time', services: ['S3-1'] }]);
  const { body } = await server.post('/api/files', late);
  const { hash } = (body as { file: { hash: string } }).file;
  expect((await check({ timetable: hash })).body).toEqual(sent);
});

test('what is no timetable is refused with its faults, what can’t be examined told with its own', async () => {
  expect(await check({ timetable: { kind: 'blockbell-timetable' } })).toMatchObject({
    status: 422,
    body: { ok: false, refusal: { code: 'faulty-file' } },
  });
  expect(await check({ timetable: JSON.parse(exampleFiles('passing-loop').layout) })).toMatchObject(
    { status: 422, body: { faults: [{ place: 'kind' }] } },
  );
  expect((await check({ timetable: '0123456789abcdef' })).status).toBe(404);
  expect((await check({ table: 1 })).status).toBe(400);
  const noon = JSON.parse(timetable.replace('"08:11"', '"noon"')) as object;
  expect(await check({ timetable: noon })).toMatchObject({
    status: 200,
    body: { faults: [{ text: '"noon" is no time' }], findings: [] },
  });
});
