import { createServer } from 'node:net';
import type { INestApplication } from '@nestjs/common';

const LOOPBACK = '127.0.0.1';
/** How many ports are tried before giving up. */
const TRIES = 50;

/** Listens on the port, or on the next free one above it; returns the page's address. */
export async function listenNear(app: INestApplication, port: number): Promise<string> {
  await app.listen(await freePort(port), LOOPBACK);
  return addressOf(app);
}

/** The first free port from `port` on; the last one tried is left to fail with its reason. */
async function freePort(port: number): Promise<number> {
  const last = Math.min(port + TRIES - 1, 65_535);
  for (let tried = port; tried < last; tried++) if (await isFree(tried)) return tried;
  return last;
}

const isFree = (port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', () => resolve(false));
    probe.listen(port, LOOPBACK, () => probe.close(() => resolve(true)));
  });

function addressOf(app: INestApplication): string {
  const address: unknown = app.getHttpServer().address();
  if (typeof address !== 'object' || address === null || !('port' in address))
    throw new Error('the server does not listen on a port');
  return `http://${LOOPBACK}:${String(address.port)}/`;
}
