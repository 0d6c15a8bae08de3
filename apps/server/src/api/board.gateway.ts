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
  crewMessage,
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
import { CommandDesk } from '../people/command-desk.js';
import { SIGN_IN_FIRST, type Asker } from '../people/leave.js';
import { People } from '../people/people.js';
import { SignIns, type SignIn } from '../people/sign-ins.js';
import { SessionService } from '../session/session.service.js';
import { complaints } from './zod-body.js';

/** How long a crew's link may be lost before their train is told to stop, ms. */
const LINK_PATIENCE = 5_000;

/** The boards' sockets: a snapshot on connecting, deltas after it, commands with answers. */
@WebSocketGateway()
export class BoardGateway implements OnGatewayConnection, OnGatewayDisconnect {
  private readonly clients = new Map<Socket, SocketClient>();

  constructor(
    @Inject(SessionService) private readonly sessions: SessionService,
    @Inject(CommandDesk) private readonly desk: CommandDesk,
    @Inject(People) private readonly people: People,
    @Inject(SignIns) private readonly signIns: SignIns,
  ) {
    signIns.onEnd(({ tokenHash }) => this.close((signIn) => signIn.tokenHash === tokenHash));
    // They come back at once, and find what their new role has for them.
    people.onChange((id) => this.close(({ person }) => person === id));
  }

  handleConnection(socket: Socket): void {
    const signIn = signInOf(socket);
    const client = new SocketClient(socket, signIn);
    if (signIn !== null) client.expiry = setTimeout(() => socket.disconnect(true), lifeOf(signIn));
    this.clients.set(socket, client);
    this.sessions.boards.add(client);
  }

  handleDisconnect(socket: Socket): void {
    const client = this.clients.get(socket);
    if (client === undefined) return;
    clearTimeout(client.expiry);
    this.clients.delete(socket);
    this.sessions.boards.remove(client);
    if (client.signIn !== null) this.watchFor(client.signIn.person);
  }

  @SubscribeMessage(EVENTS.command)
  command(@ConnectedSocket() socket: Socket, @MessageBody() body: unknown): Promise<AnswerMessage> {
    return this.answered(socket, commandMessage, body, (asker, message) =>
      this.desk.give(asker, message),
    );
  }

  @SubscribeMessage(EVENTS.pace)
  pace(@ConnectedSocket() socket: Socket, @MessageBody() body: unknown): Promise<AnswerMessage> {
    return this.answered(socket, paceMessage, body, (asker, message) =>
      this.desk.setPace(asker, message),
    );
  }

  @SubscribeMessage(EVENTS.crew)
  crew(@ConnectedSocket() socket: Socket, @MessageBody() body: unknown): Promise<AnswerMessage> {
    return this.answered(socket, crewMessage, body, (asker, message) =>
      this.desk.putCrew(asker, message),
    );
  }

  @SubscribeMessage(EVENTS.resync)
  resync(@ConnectedSocket() socket: Socket): AnswerMessage {
    const client = this.clients.get(socket);
    if (client !== undefined) this.sessions.boards.resync(client);
    return { ok: true };
  }

  /** Checks a message, carries it out and says how it went; never leaves it unanswered. */
  private async answered<Schema extends z.ZodType>(
    socket: Socket,
    schema: Schema,
    body: unknown,
    carryOut: (asker: Asker, message: z.infer<Schema>) => Promise<Refusal | null>,
  ): Promise<AnswerMessage> {
    const signIn = signInOf(socket);
    const asker =
      signIn !== null && this.signIns.holds(signIn) ? this.people.get(signIn.person) : null;
    if (signIn !== null && asker === null) return { ok: false, refusal: SIGN_IN_FIRST };
    const parsed = schema.safeParse(body);
    const refused = parsed.success
      ? await carryOut(asker, parsed.data)
      : refusal('bad-message', `The message is not as described: ${complaints(parsed.error)}`);
    return refused === null ? { ok: true } : { ok: false, refusal: refused };
  }

  private close(which: (signIn: SignIn) => boolean): void {
    for (const [socket, { signIn }] of this.clients)
      if (signIn !== null && which(signIn)) socket.disconnect(true);
  }

  /** A train doesn't run on for long when its crew can't reach it any more. */
  private watchFor(id: number): void {
    const isBack = (): boolean =>
      [...this.clients.values()].some(({ signIn }) => signIn?.person === id);
    if (isBack()) return;
    setTimeout(() => {
      const person = this.people.get(id);
      if (person !== null && !isBack()) void this.desk.leftAlone(person);
    }, LINK_PATIENCE).unref();
  }
}

/** Null where nobody signs in; elsewhere the handshake let nobody in without. */
const signInOf = (socket: Socket): SignIn | null =>
  (socket.data as { readonly signIn?: SignIn }).signIn ?? null;

const lifeOf = ({ expires }: SignIn): number => Math.max(0, expires - Date.now());

/** Counts what was handed to the socket since its buffer last ran empty. */
class SocketClient implements BoardClient {
  private owed = 0;
  /** Closes the socket when the sign-in expires; a sign-in lasts less than the longest a timer can run. */
  expiry: ReturnType<typeof setTimeout> | undefined;

  constructor(
    private readonly socket: Socket,
    readonly signIn: SignIn | null,
  ) {
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
