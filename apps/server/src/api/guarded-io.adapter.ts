import type { INestApplication } from '@nestjs/common';
import { IoAdapter } from '@nestjs/platform-socket.io';
import { NOT_SIGNED_IN } from '@blockbell/contract';
import type { Server, ServerOptions } from 'socket.io';
import { SETTINGS, type Settings } from '../config/settings.js';
import { SignIns } from '../people/sign-ins.js';
import type { Door } from './door.js';
import { refuseAtDoor } from './origin.guard.js';
import { tokenIn } from './token-cookie.js';

/** Largest message of a board, in bytes. */
const MESSAGE_LIMIT = 100_000;

/** Sockets for this server's own pages, and where people sign in for those who have. */
export class GuardedIoAdapter extends IoAdapter {
  constructor(
    private readonly app: INestApplication,
    private readonly door: Door,
  ) {
    super(app);
  }

  override createIOServer(port: number, options?: ServerOptions): Server {
    const guarded: Partial<ServerOptions> = {
      ...options,
      maxHttpBufferSize: MESSAGE_LIMIT,
      serveClient: false,
      allowRequest: (request, decide) => {
        const refusal = refuseAtDoor(request, true, this.door);
        decide(refusal === null ? null : refusal.text, refusal === null);
      },
    };
    const server: Server = super.createIOServer(port, guarded as ServerOptions);
    if (this.app.get<Settings>(SETTINGS).open) this.demandSignIn(server);
    return server;
  }

  private demandSignIn(server: Server): void {
    const signIns = this.app.get(SignIns);
    server.use((socket, next) => {
      const signIn = signIns.find(tokenIn(socket.request.headers.cookie) ?? '');
      if (signIn === null) {
        next(new Error(NOT_SIGNED_IN));
        return;
      }
      socket.data.signIn = signIn;
      next();
    });
  }
}
