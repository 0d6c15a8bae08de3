import type { Role } from '@blockbell/contract';
import { io } from 'socket.io-client';
import { Entrance } from '../people/entrance.js';
import { TestBoard } from './test-board.js';
import { startTestServer, type Answer, type TestServer } from './test-server.js';

export const PASSPHRASE = 'a lamp at every signal';

/** People of the open server, by role, with two dispatchers and two crews. */
export const NAMES = {
  bea: 'builder',
  dora: 'dispatcher',
  dirk: 'dispatcher',
  carl: 'crew',
  cleo: 'crew',
  vera: 'visitor',
} as const satisfies Readonly<Record<string, Role>>;
export type Name = keyof typeof NAMES;

/** A server that the network may come to, with people who may sign in. */
export interface OpenServer extends TestServer {
  /** The `Cookie` header of a browser in which they signed in. */
  readonly cookies: Readonly<Record<Name, string>>;
  /** Signs in anew; returns the `Cookie` header. */
  signIn(name: Name): Promise<string>;
  /** A board of theirs, once it has its first picture. */
  board(cookie: string): Promise<TestBoard>;
}

export async function startOpenServer(dataFolder: string): Promise<OpenServer> {
  const server = await startTestServer(dataFolder, true);
  const code = server.app.get(Entrance).firstCode;
  const first = await server.post('/api/sign-in/first', {
    code,
    name: 'bea',
    passphrase: PASSPHRASE,
  });
  const builder = { Cookie: cookieOf(first) };
  for (const [name, role] of Object.entries(NAMES))
    if (name !== 'bea')
      await server.post('/api/people', { name, role, passphrase: PASSPHRASE }, builder);
  const boards: TestBoard[] = [];
  const signIn = async (name: Name): Promise<string> =>
    cookieOf(await server.post('/api/sign-in', { name, passphrase: PASSPHRASE }));
  const cookies: Partial<Record<Name, string>> = {};
  for (const name of Object.keys(NAMES) as Name[]) cookies[name] = await signIn(name);
  return {
    ...server,
    cookies: cookies as Readonly<Record<Name, string>>,
    signIn,
    async board(cookie) {
      const board = new TestBoard(
        io(server.address, { forceNew: true, extraHeaders: { Cookie: cookie } }),
      );
      boards.push(board);
      await board.until(({ picture }) => picture !== null);
      return board;
    },
    async close() {
      for (const { socket } of boards) socket.disconnect();
      await server.close();
    },
  };
}

/** What a browser would send back of a `Set-Cookie` header. */
export const cookieOf = ({ cookie }: Answer): string => cookie?.split(';')[0] ?? '';
