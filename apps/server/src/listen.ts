import { createServer, isIPv4 } from 'node:net';
import type { INestApplication } from '@nestjs/common';
import { addressIn, THIS_MACHINE } from './api/door.js';

const LOOPBACK = '127.0.0.1';

/** Where the page is found. */
export interface Addresses {
  /** On this machine. */
  readonly here: string;
  /** From the rest of the network; none where it is not open. */
  readonly network: readonly string[];
}

/** How many ports are tried before giving up. */
const TRIES = 50;

/** Listens on the port, or on the next free one above it; on loopback, or on every interface if it is to be open. */
export async function listenNear(
  app: INestApplication,
  port: number,
  open = false,
): Promise<Addresses> {
  const free = await freePort(port, open);
  // Without a host Node listens on every interface, IPv6 where the machine has it.
  await (open ? app.listen(free) : app.listen(free, LOOPBACK));
  const taken = portOf(app);
  return {
    here: `http://${LOOPBACK}:${taken}/`,
    network: open ? networkAddresses().map((address) => `http://${address}:${taken}/`) : [],
  };
}

/** IPv4 addresses of this machine's interfaces: what people can type. */
const networkAddresses = (): string[] =>
  THIS_MACHINE.networks()
    .map(addressIn)
    .filter((address) => isIPv4(address) && !address.startsWith('127.'));

/** The first free port from `port` on; the last one tried is left to fail with its reason. */
async function freePort(port: number, open: boolean): Promise<number> {
  const last = Math.min(port + TRIES - 1, 65_535);
  for (let tried = port; tried < last; tried++) if (await isFree(tried, open)) return tried;
  return last;
}

const isFree = (port: number, open: boolean): Promise<boolean> =>
  new Promise((resolve) => {
    const probe = createServer();
    probe.once('error', () => resolve(false));
    probe.listen({ port, ...(open ? {} : { host: LOOPBACK }) }, () =>
      probe.close(() => resolve(true)),
    );
  });

function portOf(app: INestApplication): string {
  const address: unknown = app.getHttpServer().address();
  if (typeof address !== 'object' || address === null || !('port' in address))
    throw new Error('the server does not listen on a port');
  return String(address.port);
}
