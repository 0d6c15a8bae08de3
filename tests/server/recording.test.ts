import {
  recordingIndex,
  recordingPart,
  storedSessionList,
  type RecordingIndex,
  type SnapshotMessage,
} from '@blockbell/contract';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { applyDelta } from '../../apps/server/src/testing/merge-rows.js';
import { command, look, runSession, setPace, tell, until } from '../support/drive-session.mjs';
import { ServerProcess } from '../support/server-process.mjs';

let server: ServerProcess;

beforeEach(async () => {
  server = new ServerProcess({ BLOCKBELL_EXAMPLE: 'passing-loop' });
  await server.start();
});
afterEach(async () => {
  await server.remove();
});

const get = async (path: string): Promise<{ status: number; body: unknown }> => {
  const answer = await fetch(new URL(path, server.address));
  return { status: answer.status, body: await answer.json() };
};

async function indexOf(session: number): Promise<RecordingIndex> {
  const { status, body } = await get(`api/sessions/${session}/recording`);
  expect(status).toBe(200);
  return recordingIndex.parse(body);
}

/** The picture at the end of a part; every delta must continue from the one before it. */
async function endOf(session: number, number: number): Promise<SnapshotMessage> {
  const { body } = await get(`api/sessions/${session}/recording/${number}`);
  const { part, snapshot, deltas } = recordingPart.parse(body);
  expect(part).toBe(number);
  return deltas.reduce(applyDelta, snapshot);
}

/** Waits until what the server shows is on disk. A step that nobody sees leaves no trace there. */
async function untilRecorded(session: number): Promise<RecordingIndex> {
  await until('the recording has caught up', async () => {
    const { parts } = await indexOf(session);
    if (parts.length === 0) return false;
    const recorded = await endOf(session, parts.length - 1);
    return seen(recorded) === seen(await look(server.address));
  });
  return indexOf(session);
}

const seen = ({ epoch, rows: { log = [], ...rows } }: SnapshotMessage): string =>
  JSON.stringify([epoch, rows.session, rows.sections, rows.trains, rows.alarms, log.at(-1)]);

test('a session is recorded though no board looks on, and leads to what the server shows', async () => {
  // Slow enough for trains to be under way still when a key frame may follow the first.
  await runSession(server.address, 8);
  await until('a second key frame is due', async () => (await indexOf(1)).parts.length > 1);
  await command(server.address, { kind: 'take-in-hand', train: 0, take: true });
  await command(server.address, { kind: 'stop-all' });
  await setPace(server.address, 1);
  await until('all stand', async () =>
    (await look(server.address)).rows.trains!.every(({ activity }) => activity !== 'stopping'),
  );
  const { session, spans, parts, gaps, marks } = await untilRecorded(1);
  expect(spans).toHaveLength(1);
  expect(spans[0]!.until).toBeGreaterThan(60_000);
  expect(spans[0]!.untilFast).toBeGreaterThan(spans[0]!.fromFast);
  expect(gaps).toEqual([]);
  expect(parts.length).toBeGreaterThan(1);
  expect(marks.map(({ kind, train }) => ({ kind, train }))).toContainEqual({
    kind: 'in-hand',
    train: 0,
  });
  expect(session.recorded).toBe(spans[0]!.until - spans[0]!.from);
  // All that was written down reaches at least as far as the last key frame did.
  expect(session.length).toBeGreaterThanOrEqual(parts.at(-1)!.from);
  // Each part leads to where the next begins.
  for (const { part } of parts.slice(1)) {
    const { body } = await get(`api/sessions/1/recording/${part}`);
    expect((await endOf(1, part - 1)).revision).toBe(recordingPart.parse(body).snapshot.revision);
  }
  const shown = await look(server.address);
  const recorded = await endOf(1, parts.length - 1);
  expect(recorded.rows).toMatchObject({ session: shown.rows.session, trains: shown.rows.trains });
  expect(recorded.rows.sections).toEqual(shown.rows.sections);
});

test('the list tells of every session; the files are those it was frozen to', async () => {
  await untilRecorded(1);
  const { body } = await get('api/session/files');
  const { layout, stock, timetable } = body as Record<string, unknown>;
  const files = { layout, stock, timetable };
  expect((await get('api/sessions/1/files')).body).toEqual(files);
  await tell(server.address, '', { example: 'demo' });
  const list = storedSessionList.parse((await get('api/sessions')).body);
  expect(list.map(({ id }) => id)).toEqual([2, 1]);
  expect(list[0]).toMatchObject({ endedAt: null, ending: null });
  expect(list[1]!.ending).toMatch(/Robin/);
  expect(list[1]!.endedAt).not.toBeNull();
  for (const { engine } of list) expect(engine).toMatch(/^\d+\.\d+\.\d+-[0-9a-f]{12}$/);
  expect((await get('api/sessions/1/files')).body).toEqual(files);
});

test('each start of the server is a span of its own, and begins with a key frame', async () => {
  await command(server.address, { kind: 'power-up' });
  await untilRecorded(1);
  await server.stop();
  await server.start();
  const { spans, parts, gaps } = await untilRecorded(1);
  expect(spans.map(({ run }) => run)).toEqual([1, 2]);
  expect(parts.filter(({ run }) => run === 2)).not.toEqual([]);
  expect(gaps).toEqual([]);
});

test('what is not there is refused readably', async () => {
  const refused = [
    ['api/sessions/99/recording', 'unknown-session'],
    ['api/sessions/99/recording/0', 'unknown-session'],
    ['api/sessions/x/recording', 'unknown-session'],
    ['api/sessions/-1/files', 'unknown-session'],
    ['api/sessions/1/recording/999', 'unknown-part'],
    ['api/sessions/1/recording/1.5', 'unknown-part'],
  ] as const;
  for (const [path, code] of refused)
    expect(await get(path)).toMatchObject({
      status: 404,
      body: { ok: false, refusal: { code, text: expect.stringMatching(/^[A-Z].{20,}/) } },
    });
});

test('a session begins where an ended one left its trains, and is refused after one that did not end', async () => {
  await expect(tell(server.address, '', { after: 1 })).rejects.toMatchObject({
    code: 'no-line-up',
  });
  await runSession(server.address, 60);
  await command(server.address, { kind: 'end-session' });
  await until('it has ended', async () => {
    const { session } = (await look(server.address)).rows;
    return session?.phase === 'ended';
  });
  await until('the line-up is saved', async () => {
    const { log } = (await look(server.address)).rows;
    return log!.some(({ text }) => text.includes('saved as the next line-up'));
  });
  const before = (await look(server.address)).rows.trains!;
  await tell(server.address, '', { after: 1 });
  const { rows } = await look(server.address);
  expect(rows.session).toMatchObject({ id: 'session-2', phase: 'set-up' });
  expect(rows.trains!.map(({ where }) => where)).toEqual(before.map(({ where }) => where));
});
