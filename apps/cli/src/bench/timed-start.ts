import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';

const SERVER = fileURLToPath(new URL('../../../server/dist/main.js', import.meta.url));
const READY = /^Blockbell is ready: (http:\/\/127\.0\.0\.1:\d+\/)$/m;

/** How a server came up on a data folder. */
export interface TimedStart {
  /** Wall-clock ms from the start of the process until it had answered with the session’s state. */
  readonly elapsed: number;
  readonly phase: string;
}

/** Starts the built server on a data folder, as `npm start` does, asks once for the session, and kills it. */
export async function timedStart(folder: string): Promise<TimedStart> {
  const began = performance.now();
  const child = spawn(process.execPath, [SERVER], {
    env: { ...process.env, PORT: '0', DATA_DIR: folder },
  });
  const left = once(child, 'exit');
  try {
    let printed = '';
    const address = await new Promise<string>((resolve, reject) => {
      const read = (part: Buffer): void => {
        printed += part.toString();
        const found = READY.exec(printed)?.[1];
        if (found !== undefined) resolve(found);
      };
      child.stdout.on('data', read);
      child.stderr.on('data', read);
      child.once('exit', () => reject(new Error(`The server left:\n${printed}`)));
    });
    const answer = await fetch(new URL('api/session', address));
    const { rows } = (await answer.json()) as { rows: { session: { phase: string } } };
    return { elapsed: performance.now() - began, phase: rows.session.phase };
  } finally {
    child.kill('SIGKILL');
    await left;
  }
}
