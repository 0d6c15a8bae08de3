import 'reflect-metadata';
import { createServer as createPlainServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, expect, test } from 'vitest';
import { createServer } from './create-server.js';
import { listenNear } from './listen.js';
import { temporaryFolder } from './testing/temporary-folder.js';

const taken: Server[] = [];
afterEach(() => {
  for (const server of taken.splice(0)) server.close();
});

/** Takes a free port and returns it. */
async function takePort(): Promise<number> {
  const server = createPlainServer();
  taken.push(server);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return (server.address() as AddressInfo).port;
}

test('a port that is taken is passed over, and the server works on the next free one', async () => {
  const folder = temporaryFolder();
  const app = await createServer({
    port: 0,
    open: false,
    names: [],
    dataFolder: folder.path,
    example: 'passing-loop',
    faults: null,
    planning: false,
    recordings: { sessions: 1, megabytes: 1 },
  });
  const port = await takePort();
  const { here: address } = await listenNear(app, port);
  expect(Number(new URL(address).port)).toBeGreaterThan(port);
  const response = await fetch(`${address}api/health`);
  expect(response.status).toBe(200);
  await app.close();
  folder.remove();
});
