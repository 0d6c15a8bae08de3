import { Inject } from '@nestjs/common';
import {
  MessageBody,
  ConnectedSocket,
  SubscribeMessage,
  WebSocketGateway,
  type OnGatewayConnection,
  type OnGatewayDisconnect,
} from '@nestjs/websockets';
import {
  commandMessage,
  EVENTS,
  paceMessage,
  type AnswerMessage,
  type DeltaMessage,
  type SnapshotMessage,
} from '@blockbell/contract';
import { refusal, type Refusal } from '@blockbell/railway';
import type { Socket } from 'socket.io';
import type { z } from 'zod';
import type { BoardClient } from '../session/board-clients.js';
import { SessionService } from '../session/session.service.js';
import { complaints } from './zod-body.js';

/** The boards' sockets: a snapshot on connecting, deltas after it, commands with answers. */
@WebSocketGateway()
export class BoardGateway implements OnGatewayConnection, OnGatewayDisconnect {
  private readonly clients = new WeakMap<Socket, SocketClient>();

  constructor(@Inject(SessionService) private readonly sessions: SessionService) {}

  handleConnection(socket: Socket): void {
    const client = new SocketClient(socket);
    this.clients.set(socket, client);
    this.sessions.boards.add(client);
  }

  handleDisconnect(socket: Socket): void {
    const client = this.clients.get(socket);
    if (client !== undefined) this.sessions.boards.remove(client);
  }

  @SubscribeMessage(EVENTS.command)
  command(@MessageBody() body: unknown): Promise<AnswerMessage> {
    return answered(commandMessage, body, ({ by, command }) => this.sessions.give(by, command));
  }

  @SubscribeMessage(EVENTS.pace)
  pace(@MessageBody() body: unknown): Promise<AnswerMessage> {
    return answered(paceMessage, body, ({ by, pace }) => this.sessions.setPace(by, pace));
  }

  @SubscribeMessage(EVENTS.resync)
  resync(@ConnectedSocket() socket: Socket): AnswerMessage {
    const client = this.clients.get(socket);
    if (client !== undefined) this.sessions.boards.resync(client);
    return { ok: true };
  }
}

/** Checks a message, carries it out and says how it went; never leaves it unanswered. */
async function answered<Schema extends z.ZodType>(
  schema: Schema,
  body: unknown,
  carryOut: (message: z.infer<Schema>) => Promise<Refusal | null>,
): Promise<AnswerMessage> {
  const parsed = schema.safeParse(body);
  const refused = parsed.success
    ? await carryOut(parsed.data)
    : refusal('bad-message', `The message is not as described: ${complaints(parsed.error)}`);
  return refused === null ? { ok: true } : { ok: false, refusal: refused };
}

/** Counts what was handed to the socket since its buffer last ran empty. */
class SocketClient implements BoardClient {
  private owed = 0;

  constructor(private readonly socket: Socket) {
    socket.conn.on('drain', () => {
      this.owed = 0;
    });
  }

  backlog(): number {
    return this.owed;
  }

  sendSnapshot(message: SnapshotMessage): void {
    this.owed++;
    this.socket.emit(EVENTS.snapshot, message);
  }

  sendDelta(message: DeltaMessage): void {
    this.owed++;
    this.socket.emit(EVENTS.delta, message);
  }
}
