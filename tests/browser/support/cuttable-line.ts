import { connect, createServer, type Server, type Socket } from 'node:net';

/** A line between browser and server that can be cut and mended, like a cable. */
export class CuttableLine {
  readonly #target: URL;
  readonly #sockets = new Set<Socket>();
  #server: Server | null = null;
  #port = 0;

  constructor(target: string) {
    this.#target = new URL(target);
  }

  get address(): string {
    return `http://127.0.0.1:${this.#port}/`;
  }

  /** Lets traffic through; the second time at the address of the first. */
  async join(): Promise<void> {
    const server = createServer((near) => {
      const far = connect(Number(this.#target.port), this.#target.hostname);
      near.pipe(far);
      far.pipe(near);
      for (const [socket, other] of [
        [near, far],
        [far, near],
      ] as const) {
        this.#sockets.add(socket);
        socket.on('error', () => other.destroy());
        socket.on('close', () => {
          this.#sockets.delete(socket);
          other.destroy();
        });
      }
    });
    await new Promise<void>((resolve) => server.listen(this.#port, '127.0.0.1', resolve));
    const address = server.address();
    if (address !== null && typeof address === 'object') this.#port = address.port;
    this.#server = server;
  }

  async cut(): Promise<void> {
    const server = this.#server;
    this.#server = null;
    if (server === null) return;
    const closed = new Promise((resolve) => server.close(resolve));
    for (const socket of this.#sockets) socket.destroy();
    await closed;
  }
}
