import type { IncomingMessage } from 'node:http';
import {
  createParamDecorator,
  Inject,
  Injectable,
  SetMetadata,
  type CanActivate,
  type CustomDecorator,
  type ExecutionContext,
} from '@nestjs/common';
import { Reflector } from '@nestjs/core';
import type { Act } from '@blockbell/contract';
import { SETTINGS, type Settings } from '../config/settings.js';
import { refuseAct, SIGN_IN_FIRST, type Asker } from '../people/leave.js';
import { People } from '../people/people.js';
import { SignIns } from '../people/sign-ins.js';
import { RefusalException } from '../refusal/refusal.exception.js';
import { tokenIn } from './token-cookie.js';

const LEAVE = 'leave';

/** For whom an address is: everybody, or those whose role allows the act. Without it: for everybody who is signed in. */
export const For = (leave: Act | 'everybody'): CustomDecorator => SetMetadata(LEAVE, leave);

interface AskedRequest extends IncomingMessage {
  asker?: Asker;
}

/** Who asks, as the guard found out. */
export const Asking = createParamDecorator(
  (_: unknown, context: ExecutionContext): Asker =>
    context.switchToHttp().getRequest<AskedRequest>().asker ?? null,
);

/** Lets nobody to an address of the API who is not signed in, where people sign in at all. */
@Injectable()
export class SignInGuard implements CanActivate {
  constructor(
    @Inject(SETTINGS) private readonly settings: Settings,
    @Inject(SignIns) private readonly signIns: SignIns,
    @Inject(People) private readonly people: People,
    @Inject(Reflector) private readonly reflector: Reflector,
  ) {}

  canActivate(context: ExecutionContext): boolean {
    // A board's socket was let in by its handshake; what it may do is asked with each of its messages.
    if (context.getType() !== 'http' || !this.settings.open) return true;
    const request = context.switchToHttp().getRequest<AskedRequest>();
    const leave = this.reflector.get<Act | 'everybody' | undefined>(LEAVE, context.getHandler());
    const signIn = this.signIns.find(tokenIn(request.headers.cookie) ?? '');
    request.asker = signIn === null ? null : this.people.get(signIn.person);
    if (leave === 'everybody') return true;
    if (request.asker === null) throw new RefusalException(401, SIGN_IN_FIRST);
    const refused = leave === undefined ? null : refuseAct(request.asker, leave);
    if (refused !== null) throw new RefusalException(403, refused);
    return true;
  }
}
