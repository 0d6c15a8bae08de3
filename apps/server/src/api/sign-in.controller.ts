import type { IncomingMessage, ServerResponse } from 'node:http';
import { Body, Controller, Get, HttpCode, Inject, Post, Req, Res } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import {
  answerMessage,
  firstSignUpMessage,
  signInMessage,
  whoView,
  type AnswerMessage,
  type FirstSignUpMessage,
  type SignInMessage,
  type WhoView,
} from '@blockbell/contract';
import { SETTINGS, type Settings } from '../config/settings.js';
import { Entrance, type Entered } from '../people/entrance.js';
import type { Asker } from '../people/leave.js';
import { SignIns } from '../people/sign-ins.js';
import { RefusalException } from '../refusal/refusal.exception.js';
import { Asking, For } from './sign-in.guard.js';
import { forgetToken, keepToken, tokenIn } from './token-cookie.js';
import { apiSchema, ZodBody } from './zod-body.js';

/** Coming in and leaving. */
@ApiTags('sign-in')
@Controller('api/sign-in')
export class SignInController {
  constructor(
    @Inject(SETTINGS) private readonly settings: Settings,
    @Inject(Entrance) private readonly entrance: Entrance,
    @Inject(SignIns) private readonly signIns: SignIns,
  ) {}

  @Get()
  @For('everybody')
  @ApiOperation({ summary: 'Who is signed in, and whether it matters' })
  @ApiResponse({ status: 200, schema: apiSchema(whoView) })
  who(@Asking() asker: Asker): WhoView {
    return {
      ok: true,
      signIn: this.settings.open,
      firstSignUp: this.entrance.awaitsFirst,
      person: asker,
    };
  }

  @Post()
  @For('everybody')
  @HttpCode(200)
  @ApiOperation({ summary: 'Sign in; the answer sets a cookie that a browser sends from then on' })
  @ApiBody({ schema: apiSchema(signInMessage) })
  @ApiResponse({ status: 200, schema: apiSchema(whoView) })
  @ApiResponse({ status: 401, description: 'The name or the passphrase is not right' })
  @ApiResponse({ status: 409, description: 'Nobody signs in on this server' })
  @ApiResponse({ status: 429, description: 'There were too many wrong tries' })
  async signIn(
    @Body(new ZodBody(signInMessage)) message: SignInMessage,
    @Req() request: IncomingMessage,
    @Res({ passthrough: true }) response: ServerResponse,
  ): Promise<WhoView> {
    this.demandOpen();
    return this.entered(await this.entrance.signIn(message, addressOf(request)), response);
  }

  @Post('first')
  @For('everybody')
  @HttpCode(200)
  @ApiOperation({ summary: 'Sign up as the first builder, with the code that the server printed' })
  @ApiBody({ schema: apiSchema(firstSignUpMessage) })
  @ApiResponse({ status: 200, schema: apiSchema(whoView) })
  @ApiResponse({ status: 401, description: 'The code is not right' })
  @ApiResponse({ status: 409, description: 'There is a builder already' })
  @ApiResponse({ status: 429, description: 'There were too many wrong tries' })
  async signUpFirst(
    @Body(new ZodBody(firstSignUpMessage)) message: FirstSignUpMessage,
    @Req() request: IncomingMessage,
    @Res({ passthrough: true }) response: ServerResponse,
  ): Promise<WhoView> {
    this.demandOpen();
    return this.entered(await this.entrance.signUpFirst(message, addressOf(request)), response);
  }

  @Post('out')
  @For('everybody')
  @HttpCode(200)
  @ApiOperation({ summary: 'Sign out in this browser' })
  @ApiResponse({ status: 200, schema: apiSchema(answerMessage) })
  async signOut(
    @Req() request: IncomingMessage,
    @Res({ passthrough: true }) response: ServerResponse,
  ): Promise<AnswerMessage> {
    const signIn = this.signIns.find(tokenIn(request.headers.cookie) ?? '');
    if (signIn !== null) await this.signIns.end(signIn.tokenHash);
    response.setHeader('Set-Cookie', forgetToken());
    return { ok: true };
  }

  private entered({ person, token }: Entered, response: ServerResponse): WhoView {
    response.setHeader('Set-Cookie', keepToken(token));
    return { ok: true, signIn: true, firstSignUp: false, person };
  }

  private demandOpen(): void {
    if (this.settings.open) return;
    throw new RefusalException(409, {
      code: 'no-sign-in',
      text: 'Nobody signs in here: the server is not open to the network, and whoever is at this machine may do everything.',
    });
  }
}

const addressOf = (request: IncomingMessage): string => request.socket.remoteAddress ?? '';
