import { routeTrialView, type RouteTrialView } from '@blockbell/contract';
import { afterEach, expect, test } from 'vitest';
import { serverOfFile } from '../testing/server-of-file.js';
import { startTestServer } from '../testing/test-server.js';

const server = serverOfFile(startTestServer);

type Trial = RouteTrialView['trial'];

const trial = async (): Promise<Trial> =>
  routeTrialView.parse((await server.get('/api/trial')).body).trial;

async function ended(): Promise<NonNullable<Trial>> {
  await expect.poll(async () => (await trial())?.state, { timeout: 30_000 }).not.toBe('running');
  return (await trial())!;
}

afterEach(async () => {
  if ((await trial()) !== null) await ended();
});

test('before the first there is none, and nothing to break off', async () => {
  expect(await trial()).toBeNull();
  expect(await server.send('DELETE', '/api/trial', {})).toMatchObject({
    status: 409,
    body: { ok: false, refusal: { code: 'no-trial' } },
  });
});

test('every route is tried, one trial at a time, and the report is kept', async () => {
  expect(await server.post('/api/trial', {})).toMatchObject({
    status: 202,
    body: { trial: { state: 'running', done: 0, of: null, report: null } },
  });
  expect(await server.post('/api/trial', {})).toMatchObject({
    status: 409,
    body: { refusal: { code: 'trial-goes-on' } },
  });
  const { report, done, of, failed, why } = await ended();
  expect({ failed, why }).toEqual({ failed: [], why: null });
  expect(done).toBe(of);
  expect(report).toMatchObject({ passed: of, failed: 0, notRun: 0, whole: true, seed: 1 });
  const { layout } = routeTrialView.parse((await server.get('/api/trial')).body);
  expect(report!.layout).toEqual(layout);
  expect(report!.trials.every(({ outcome }) => outcome === 'passed')).toBe(true);
});

test('broken off, it reports what was tried until then', async () => {
  await server.post('/api/trial', { seed: 7 });
  expect((await server.send('DELETE', '/api/trial', {})).status).toBe(200);
  const { report } = await ended();
  expect(report).toMatchObject({ whole: false, seed: 7 });
  expect(report!.notRun).toBeGreaterThan(0);
});

test('only the routes asked for are tried, by the train asked for', async () => {
  const { route } = (await ended()).report!.trials[0]!;
  await server.post('/api/trial', { routes: [route], train: 'T3' });
  const one = await ended();
  expect(one.report!.trials).toMatchObject([{ route, train: '3', outcome: 'passed' }]);
});

test('what is not there, or not as described, is refused with the reason', async () => {
  expect(await server.post('/api/trial', { routes: ['X-Y'] })).toMatchObject({
    status: 404,
    body: { refusal: { text: 'The layout has no route X-Y.' } },
  });
  expect(await server.post('/api/trial', { train: 'nobody' })).toMatchObject({
    status: 404,
    body: {
      refusal: {
        text: expect.stringMatching(
          /^The rolling stock has no train nobody\. Its trains: \w+/,
        ) as string,
      },
    },
  });
  expect((await server.post('/api/trial', { seed: 'x' })).status).toBe(400);
  expect((await server.post('/api/trial', { routes: [] })).status).toBe(400);
});
