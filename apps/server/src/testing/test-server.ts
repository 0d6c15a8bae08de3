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
  close(): Promise<void>;
}

export interface Answer {
  readonly status: number;
  readonly body: unknown;
}

/** The whole server on a free port, running the small example. */
export async function startTestServer(dataFolder: string): Promise<TestServer> {
  const app = await createServer({
    port: 0,
    dataFolder,
    example: 'passing-loop',
    faults: null,
    recordings: { sessions: 100, megabytes: 100 },
  });
  const address = (await listenNear(app, 0)).replace(/\/$/, '');
  const ask = async (path: string, init: RequestInit): Promise<Answer> => {
    const response = await fetch(`${address}${path}`, init);
    const text = await response.text();
    return { status: response.status, body: text.startsWith('{') ? JSON.parse(text) : text };
  };
  return {
    app,
    address,
    get: (path, headers = {}) => ask(path, { headers }),
    post: (path, body, headers = {}) =>
      ask(path, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json', ...headers },
        body: typeof body === 'string' ? body : JSON.stringify(body),
      }),
    close: () => app.close(),
  };
}
