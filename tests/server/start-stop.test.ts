import { spawn, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, expect, test } from 'vitest';

// The built server as a process of its own, as `npm start` runs it.
const MAIN = fileURLToPath(new URL('../../apps/server/dist/main.js', import.meta.url));

let folder: string;
let child: ChildProcessWithoutNullStreams | null = null;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'blockbell-start-'));
});
afterEach(() => {
  child?.kill('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
});

interface Started {
  readonly server: ChildProcessWithoutNullStreams;
  /** All it printed so far, both streams. */
  printed(): string;
  readonly exit: Promise<number | null>;
}

function start(environment: Record<string, string>): Started {
  const server = spawn(process.execPath, [MAIN], {
    env: {
      ...process.env,
      PORT: '0',
      DATA_DIR: folder,
      BLOCKBELL_EXAMPLE: 'passing-loop',
      ...environment,
    },
  });
  child = server;
  let text = '';
  for (const stream of [server.stdout, server.stderr])
    stream.on('data', (part: Buffer) => (text += part.toString()));
  const exit = new Promise<number | null>((resolve) => server.on('exit', resolve));
  return { server, printed: () => text, exit };
}

const READY = /^Blockbell is ready: (http:\/\/127\.0\.0\.1:\d+\/)$/m;

async function addressOf(started: Started): Promise<string> {
  await expect.poll(() => started.printed(), { timeout: 60_000, interval: 50 }).toMatch(READY);
  return READY.exec(started.printed())![1]!;
}

test.each(['SIGINT', 'SIGTERM'] as const)(
  'prints its address, serves, and leaves with 0 on %s, having printed nothing else',
  async (signal) => {
    const started = start({});
    const address = await addressOf(started);
    expect((await fetch(`${address}api/health`)).status).toBe(200);
    expect((await fetch(address)).headers.get('content-type')).toContain('text/html');
    started.server.kill(signal);
    expect(await started.exit).toBe(0);
    expect(started.printed()).toBe(`Blockbell is ready: ${address}\n`);
  },
);

test('what was commanded before it was stopped is in the journal of the next start', async () => {
  const first = start({});
  const address = await addressOf(first);
  const answer = await fetch(`${address}api/session/command`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ by: 'Ann', command: { kind: 'power-up' } }),
  });
  expect(await answer.json()).toEqual({ ok: true });
  first.server.kill('SIGTERM');
  expect(await first.exit).toBe(0);

  const second = start({});
  const health = await fetch(`${await addressOf(second)}api/health`);
  expect(await health.json()).toMatchObject({ session: 'session-1.2' });
  second.server.kill('SIGTERM');
  expect(await second.exit).toBe(0);
});

test.each([
  ['a port that is none', { PORT: 'eighty' }, 'PORT is “eighty”'],
  ['an example that isn’t there', { BLOCKBELL_EXAMPLE: 'moon' }, 'no example “moon”'],
  ['scripted faults that aren’t there', { BLOCKBELL_FAULTS: '/nowhere.json' }, '/nowhere.json'],
])('%s: says so in a sentence and leaves with 1', async (_, environment, sentence) => {
  const started = start(environment);
  expect(await started.exit).toBe(1);
  expect(started.printed()).toContain(sentence);
  expect(started.printed()).not.toMatch(/^\s+at /m);
});

test('a data folder that can’t be one: says so in a sentence and leaves with 1', async () => {
  const file = join(folder, 'a-file');
  writeFileSync(file, '');
  const started = start({ DATA_DIR: file });
  expect(await started.exit).toBe(1);
  expect(started.printed()).toContain(file);
  expect(started.printed()).not.toMatch(/^\s+at /m);
});
