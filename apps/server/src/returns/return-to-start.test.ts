import { returnView, type ReturnView } from '@blockbell/contract';
import {
  compileWorld,
  type LayoutFile,
  type StockFile,
  type TimetableFile,
} from '@blockbell/railway';
import { expect, test } from 'vitest';
import { beginSession, giveTo } from '../testing/begin-session.js';
import { serverOfFile } from '../testing/server-of-file.js';
import { startTestServer, type Answer } from '../testing/test-server.js';

const server = serverOfFile(startTestServer);

const give = (command: object): Promise<Answer> => giveTo(server, command);
const view = async (): Promise<ReturnView> =>
  returnView.parse((await server.get('/api/return')).body);
/** Looks again until it is so; the test ends it when it never is. */
async function until<Of>(look: () => Promise<Of>, isSo: (it: Of) => boolean): Promise<Of> {
  for (;;) {
    const it = await look();
    if (isSo(it)) return it;
    await new Promise((again) => setTimeout(again, 50));
  }
}

test('no return is planned while a train has work left, nor carried out without a plan, and nonsense is refused', async () => {
  expect((await view()).barred).toMatchObject({ code: 'not-running' });
  await give({ kind: 'power-up' });
  await give({ kind: 'hold-departures', hold: true });
  await until(
    () => beginSession(server),
    (status) => status === 200,
  );
  expect(await server.post('/api/return', { kind: 'plan' })).toMatchObject({
    status: 409,
    body: { refusal: { code: 'work-left' } },
  });
  expect((await server.send('DELETE', '/api/return', {})).status).toBe(409);
  for (const message of [{}, { kind: 'go' }, { kind: 'carry-out', by: 'Ann', plan: 0 }])
    expect((await server.post('/api/return', message)).status).toBe(400);
});

test('trains that end in each other’s place are brought back, once all work is done', async () => {
  const files = (await server.get('/api/session/files')).body as {
    layout: LayoutFile;
    stock: StockFile;
    timetable: TimetableFile;
  };
  const world = compileWorld(files.layout, files.stock, files.timetable);
  // One trip each is left: then each stands where the other began.
  for (const [train, working] of world.timetable.workings.entries()) {
    const [service, through] = [working!.services[1], working!.services.at(-1)];
    const cancelled = await give({ kind: 'cancel-services', train, service, through });
    expect(cancelled.body).toEqual({ ok: true });
  }
  await give({ kind: 'hold-departures', hold: false });
  await server.post('/api/session/pace', { by: 'Ann', pace: 60 });
  await until(view, ({ barred }) => barred === null);
  const planned = returnView.parse((await server.post('/api/return', { kind: 'plan' })).body);
  expect(planned.plan).toMatchObject({ number: 1, state: 'planned', left: [] });
  expect(planned.plan!.moves).toHaveLength(3);
  const go = (plan: number) => server.post('/api/return', { kind: 'carry-out', by: 'Ann', plan });
  expect(await go(2)).toMatchObject({ status: 409, body: { refusal: { code: 'other-plan' } } });
  expect((await go(1)).status).toBe(202);
  expect(await go(1)).toMatchObject({ status: 409, body: { refusal: { code: 'return-goes-on' } } });
  const { plan } = await until(view, (it) => it.plan?.state !== 'running');
  expect(plan!.state).toBe('ended');
  expect(plan!.moves.map(({ stage }) => stage)).toEqual(['made', 'made', 'made']);
  const again = returnView.parse((await server.post('/api/return', { kind: 'plan' })).body);
  expect(again.plan).toMatchObject({ number: 2, moves: [], left: [] });
  expect(again.plan!.there).toHaveLength(files.stock.trains.length);
}, 60_000);
