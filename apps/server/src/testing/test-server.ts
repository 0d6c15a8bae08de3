import 'reflect-metadata';
import type { INestApplication } from '@nestjs/common';
import { createServer } from '../create-server.js';
import { listenNear } from '../listen.js';

export interface TestServer {
  readonly app: INestApplication;
  /** Without the slash at its end. */
  readonly address: string;
  get(path: string, headers?: Record<string, string>): Promise<Answer>;
  post(path: string, body: unknown, headers?: Record<string, string>): Promise<Answer>;
  send(
    method: string,
    path: string,
    body: unknown,
    headers?: Record<string, string>,
  ): Promise<Answer>;
  close(): Promise<void>;
}

export interface Answer {
  readonly status: number;
  readonly body: unknown;
  /** Its `Set-Cookie` header. */
  readonly cookie?: string | undefined;
}

/** The whole server on a free port, running the small example. */
export async function startTestServer(dataFolder: string, open = false): Promise<TestServer> {
  const app = await createServer({
    port: 0,
    open,
    names: [],
    dataFolder,
    example: 'passing-loop',
    faults: null,
    planning: false,
    recordings: { sessions: 100, megabytes: 100 },
  });
  const address = (await listenNear(app, 0, open)).here.replace(/\/$/, '');
  const ask = async (path: string, init: RequestInit): Promise<Answer> => {
    const response = await fetch(`${address}${path}`, init);
    const text = await response.text();
    return {
      status: response.status,
      body: text.startsWith('{') ? JSON.parse(text) : text,
      cookie: response.headers.get('set-cookie') ?? undefined,
    };
  };
  const send: TestServer['send'] = (method, path, body, headers = {}) =>
    ask(path, {
      method,
      headers: { 'Content-Type': 'application/json', ...headers },
      body: typeof body === 'string' ? body : JSON.stringify(body),
    });
  return {
    app,
    address,
    get: (path, headers = {}) => ask(path, { headers }),
    send,
    post: (path, body, headers) => send('POST', path, body, headers),
    close: () => app.close(),
  };
}
