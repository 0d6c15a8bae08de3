import type { INestApplication } from '@nestjs/common';

const LOOPBACK = '127.0.0.1';
/** How many ports are tried before giving up. */
const TRIES = 50;

/** Listens on the port, or on the next free one above it; returns the page's address. */
export async function listenNear(app: INestApplication, port: number): Promise<string> {
  for (let tried = port; ; tried++) {
    try {
      await app.listen(tried, LOOPBACK);
      return addressOf(app);
    } catch (error) {
      const isLast = tried >= port + TRIES - 1 || tried >= 65_535;
      if (!isTaken(error) || isLast) throw error;
    }
  }
}

const isTaken = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'EADDRINUSE';

function addressOf(app: INestApplication): string {
  const address: unknown = app.getHttpServer().address();
  if (typeof address !== 'object' || address === null || !('port' in address))
    throw new Error('the server does not listen on a port');
  return `http://${LOOPBACK}:${String(address.port)}/`;
}
