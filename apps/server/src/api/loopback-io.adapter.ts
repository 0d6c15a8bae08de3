import { IoAdapter } from '@nestjs/platform-socket.io';
import type { Server, ServerOptions } from 'socket.io';
import { refuseForeign } from './origin.js';

/** Largest message of a board, in bytes. */
const MESSAGE_LIMIT = 100_000;

/** Sockets for pages of this machine only. */
export class LoopbackIoAdapter extends IoAdapter {
  override createIOServer(port: number, options?: ServerOptions): Server {
    const guarded: Partial<ServerOptions> = {
      ...options,
      maxHttpBufferSize: MESSAGE_LIMIT,
      serveClient: false,
      allowRequest: (request, decide) => {
        const refusal = refuseForeign(request.headers, true);
        decide(refusal === null ? null : refusal.text, refusal === null);
      },
    };
    return super.createIOServer(port, guarded as ServerOptions);
  }
}
