// The built server as a process of its own, as `npm start` runs it, for tests and pictures of the board.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const MAIN = fileURLToPath(new URL('../../apps/server/dist/main.js', import.meta.url));
const READY = /^Blockbell is ready: (http:\/\/127\.0\.0\.1:\d+\/)$/m;
/** How long a start may take on a busy machine, ms. */
const PATIENCE = 60_000;

/** A server on a free port, with a data folder that is gone when it is removed. */
export class ServerProcess {
  /** Its page's address, once it is started. */
  address = '';
  /** Its data folder. */
  folder = mkdtempSync(join(tmpdir(), 'blockbell-server-'));
  #environment;
  #child = null;
  #printed = '';
  /** What it said as warnings and errors since it was made. */
  #complained = '';

  /** @param {Record<string, string>} environment settings beside port and folder, see docs/server.md */
  constructor(environment = {}) {
    this.#environment = environment;
  }

  /** Starts it, the second time on the port and the data of the first. Resolves when its page can be asked for. */
  async start() {
    const port = this.address === '' ? '0' : new URL(this.address).port;
    const child = spawn(process.execPath, [MAIN], {
      // Which plan comes when depends on how fast the machine is; who tests plans asks for them.
      env: {
        ...process.env,
        BLOCKBELL_PLANNING: 'off',
        ...this.#environment,
        PORT: port,
        DATA_DIR: this.folder,
      },
    });
    this.#child = child;
    this.#printed = '';
    this.address = await new Promise((resolve, reject) => {
      const give = (why) => reject(new Error(`${why}\n${this.#printed}`));
      const timer = setTimeout(() => give('the server did not start in time:'), PATIENCE);
      child.once('exit', () => give('the server left:'));
      const read = (part) => {
        this.#printed += part.toString();
        const [, address] = READY.exec(this.#printed) ?? [];
        if (!address) return;
        clearTimeout(timer);
        child.removeAllListeners('exit');
        resolve(address);
      };
      child.stdout.on('data', read);
      child.stderr.on('data', (part) => {
        this.#complained += part.toString();
        read(part);
      });
    });
  }

  /**
   * Waits until it has printed something, and returns what was found.
   * @param {RegExp} pattern
   */
  async printed(pattern) {
    for (const end = performance.now() + PATIENCE; performance.now() < end;) {
      const found = pattern.exec(this.#printed);
      if (found) return found;
      await new Promise((resolve) => this.#child?.stdout.once('data', resolve));
    }
    throw new Error(`the server did not print ${pattern}:\n${this.#printed}`);
  }

  /** Asks it to leave, as Ctrl-C does, and waits until it has. */
  stop() {
    return this.#end('SIGTERM');
  }

  /** Ends it without a word, as a crash does. */
  kill() {
    return this.#end('SIGKILL');
  }

  async #end(signal) {
    const child = this.#child;
    this.#child = null;
    if (child === null || child.exitCode !== null) return;
    const left = new Promise((resolve) => child.once('exit', resolve));
    child.kill(signal);
    await left;
  }

  /** Lines of warnings and errors so far. */
  complaints() {
    return this.#complained.split('\n').filter((line) => line.trim() !== '');
  }

  async remove() {
    await this.stop();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
