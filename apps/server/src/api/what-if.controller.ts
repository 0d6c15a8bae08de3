import { Body, Controller, HttpCode, Inject, Post, Res } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import type { ServerResponse } from 'node:http';
import {
  whatIfMessage,
  whatIfView,
  type WhatIfMessage,
  type WhatIfView,
} from '@blockbell/contract';
import { RefusalException } from '../refusal/refusal.exception.js';
import { refuseUnknown } from '../session/command-range.js';
import { SessionService } from '../session/session.service.js';
import { WhatIfDesk } from '../what-if/what-if-desk.js';
import { For } from './sign-in.guard.js';
import { apiSchema, ZodBody } from './zod-body.js';

/** What commands would change. */
@ApiTags('session')
@Controller('api/what-if')
export class WhatIfController {
  constructor(
    @Inject(SessionService) private readonly sessions: SessionService,
    @Inject(WhatIfDesk) private readonly desk: WhatIfDesk,
  ) {}

  @Post()
  @HttpCode(200)
  @For('ask-what-if')
  @ApiOperation({
    summary:
      'What a command would change within half an hour of the fast clock, if nothing else happened; nothing is done',
  })
  @ApiBody({ schema: apiSchema(whatIfMessage) })
  @ApiResponse({ status: 200, schema: apiSchema(whatIfView) })
  @ApiResponse({ status: 400, description: 'The message is not as described' })
  @ApiResponse({ status: 409, description: 'The session does not run' })
  @ApiResponse({ status: 503, description: 'It could not be worked out' })
  async ask(
    @Body(new ZodBody(whatIfMessage)) { command }: WhatIfMessage,
    @Res({ passthrough: true }) response: ServerResponse,
  ): Promise<WhatIfView> {
    const unknown = refuseUnknown(this.sessions.files().world, command);
    if (unknown !== null) throw new RefusalException(404, unknown);
    const withdrawn = new AbortController();
    response.on('close', () => withdrawn.abort());
    const whatIf = await this.desk.ask(this.sessions.foretold(), command, withdrawn.signal);
    return { ok: true, ...whatIf };
  }
}
