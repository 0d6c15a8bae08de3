import { Body, Controller, Delete, Get, HttpCode, Inject, Post } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import {
  returnMessage,
  returnView,
  type ReturnMessage,
  type ReturnView,
} from '@blockbell/contract';
import type { Asker } from '../people/leave.js';
import { ReturnDesk } from '../returns/return-desk.js';
import { Asking, For } from './sign-in.guard.js';
import { apiSchema, ZodBody } from './zod-body.js';

const VIEW = apiSchema(returnView);

/** How the trains come back, at a session's end, to where it began. */
@ApiTags('return')
@Controller('api/return')
export class ReturnController {
  constructor(@Inject(ReturnDesk) private readonly desk: ReturnDesk) {}

  @Get()
  @For('return-to-start')
  @ApiOperation({
    summary: 'Whether the trains can return to start, and how far the last plan has come',
  })
  @ApiResponse({ status: 200, schema: VIEW })
  show(): ReturnView {
    return { ok: true, ...this.desk.view() };
  }

  @Post()
  @HttpCode(202)
  @For('return-to-start')
  @ApiOperation({
    summary: 'Plans the return to start, or has the plan carried out that was looked at',
  })
  @ApiBody({ schema: apiSchema(returnMessage) })
  @ApiResponse({ status: 202, schema: VIEW })
  @ApiResponse({ status: 400, description: 'The message is not as described' })
  @ApiResponse({ status: 409, description: 'It can’t be done now, with the reason' })
  @ApiResponse({ status: 503, description: 'No plan could be made' })
  async begin(
    @Body(new ZodBody(returnMessage)) message: ReturnMessage,
    @Asking() asker: Asker,
  ): Promise<ReturnView> {
    if (message.kind === 'plan') await this.desk.plan();
    else this.desk.carryOut(asker?.name ?? message.by, message.plan);
    return this.show();
  }

  @Delete()
  @For('return-to-start')
  @ApiOperation({ summary: 'Stops the return; trains under way come to the end of what they have' })
  @ApiResponse({ status: 200, schema: VIEW })
  @ApiResponse({ status: 409, description: 'No return goes on' })
  stop(@Asking() asker: Asker): ReturnView {
    this.desk.stop(asker?.name ?? 'Somebody');
    return this.show();
  }
}
