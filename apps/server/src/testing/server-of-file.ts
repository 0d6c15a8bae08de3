import { afterAll, beforeAll } from 'vitest';
import { temporaryFolder } from './temporary-folder.js';
import type { TestServer } from './test-server.js';

/**
 * One server for all tests of a file, with a data folder of its own: begun before the first of them, ended after the last. To be used within
 * tests and hooks only.
 * @param patience how long it may take to begin, ms; left out: as long as every other hook
 */
export function serverOfFile<Server extends TestServer>(
  start: (dataFolder: string) => Promise<Server>,
  patience?: number,
): Server {
  const server = {} as Server;
  let folder: ReturnType<typeof temporaryFolder>;
  beforeAll(async () => {
    folder = temporaryFolder();
    Object.assign(server, await start(folder.path));
  }, patience);
  afterAll(async () => {
    await server.close();
    folder.remove();
  });
  return server;
}
