import { snapshotMessage } from '@blockbell/contract';
import type { Answer, TestServer } from './test-server.js';

/** Gives a command as Ann. */
export const giveTo = (server: TestServer, command: object): Promise<Answer> =>
  server.post('/api/session/command', { by: 'Ann', command });

/** Says of every train that it stands where it is stored, and starts; the status of the answer. */
export async function beginSession(server: TestServer): Promise<number> {
  const { rows } = snapshotMessage.parse((await server.get('/api/session')).body);
  for (const { train, heading, status } of rows.lineUp ?? [])
    if (status === 'ask') await giveTo(server, { kind: 'confirm-place', train, heading });
  return (await giveTo(server, { kind: 'start' })).status;
}
