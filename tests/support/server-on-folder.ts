import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { snapshotMessage, type SnapshotMessage } from '@blockbell/contract';
import { vi } from 'vitest';

// The built server as a process of its own, as `npm start` runs it.
const MAIN = fileURLToPath(new URL('../../apps/server/dist/main.js', import.meta.url));
const READY = /^Blockbell is ready: (http:\/\/127\.0\.0\.1:\d+)\/$/m;

/** A server that runs on a data folder, and what a dispatcher does with it. */
export class ServerOnFolder {
  private constructor(
    readonly address: string,
    /** Ends it; resolves when it is gone. */
    readonly end: (signal: 'SIGKILL' | 'SIGTERM') => Promise<void>,
  ) {}

  static async start(folder: string, example = 'passing-loop'): Promise<ServerOnFolder> {
    const child = spawn(process.execPath, [MAIN], {
      env: { ...process.env, PORT: '0', DATA_DIR: folder, BLOCKBELL_EXAMPLE: example },
    });
    let printed = '';
    for (const stream of [child.stdout, child.stderr])
      stream.on('data', (part: Buffer) => (printed += part.toString()));
    const gone = new Promise<void>((resolve) => child.on('exit', () => resolve()));
    await vi.waitUntil(() => READY.test(printed), { timeout: 60_000, interval: 50 });
    return new ServerOnFolder(READY.exec(printed)![1]!, async (signal) => {
      child.kill(signal);
      await gone;
    });
  }

  async shown(): Promise<SnapshotMessage> {
    return snapshotMessage.parse(await this.get('/api/session'));
  }

  async get(path: string): Promise<unknown> {
    return (await fetch(`${this.address}${path}`)).json();
  }

  async phase(): Promise<string | undefined> {
    return (await this.shown()).rows.session?.phase;
  }

  /** Gives a command; the code of its refusal, or null. */
  async give(kind: string, more: object = {}): Promise<string | null> {
    const answer = await this.post('command', { by: 'Ann', command: { kind, ...more } });
    const { refusal } = (await answer.json()) as { refusal?: { code: string } };
    return refusal?.code ?? null;
  }

  async setPace(pace: number): Promise<void> {
    await this.post('pace', { by: 'Ann', pace });
  }

  /** Raises power, answers the line-up as it asks, and lets the session run. */
  async run(): Promise<void> {
    await this.give('power-up');
    const tried = async (): Promise<string | undefined> => {
      const { session, lineUp } = (await this.shown()).rows;
      for (const { status, train, heading } of lineUp ?? [])
        if (status === 'ask') await this.give('confirm-place', { train, heading });
      if (session?.phase === 'line-up') await this.give('resume');
      return this.phase();
    };
    await vi.waitUntil(async () => (await tried()) === 'running', {
      timeout: 60_000,
      interval: 200,
    });
  }

  private post(path: string, body: object): Promise<Response> {
    return fetch(`${this.address}/api/session/${path}`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    });
  }
}
