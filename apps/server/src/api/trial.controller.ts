import { Body, Controller, Delete, Get, HttpCode, Inject, Post } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import {
  routeTrialMessage,
  routeTrialView,
  type RouteTrialMessage,
  type RouteTrialView,
} from '@blockbell/contract';
import { contentHash, type LayoutFile } from '@blockbell/railway';
import { SessionService } from '../session/session.service.js';
import { TrialDesk } from '../trials/trial-desk.js';
import { For } from './sign-in.guard.js';
import { apiSchema, ZodBody } from './zod-body.js';

/** Trials of routes, in simulation. */
@ApiTags('trial')
@Controller('api/trial')
export class TrialController {
  readonly #hashes = new WeakMap<LayoutFile, string>();

  constructor(
    @Inject(SessionService) private readonly sessions: SessionService,
    @Inject(TrialDesk) private readonly desk: TrialDesk,
  ) {}

  @Get()
  @For('try-routes')
  @ApiOperation({ summary: 'How the trial goes on, or what the last one came to' })
  @ApiResponse({ status: 200, schema: apiSchema(routeTrialView) })
  show(): RouteTrialView {
    return { ok: true, layout: this.#layout(), trial: this.desk.view() };
  }

  @Post()
  @HttpCode(202)
  @For('try-routes')
  @ApiOperation({
    summary:
      'Tries routes in simulation, on the layout of the session that runs; nothing happens on the layout itself',
  })
  @ApiBody({ schema: apiSchema(routeTrialMessage) })
  @ApiResponse({ status: 202, schema: apiSchema(routeTrialView) })
  @ApiResponse({ status: 400, description: 'The message is not as described' })
  @ApiResponse({ status: 404, description: 'There is no such route or train' })
  @ApiResponse({ status: 409, description: 'A trial goes on already' })
  begin(@Body(new ZodBody(routeTrialMessage)) message: RouteTrialMessage): RouteTrialView {
    const { layout, stock } = this.sessions.files();
    const { routes, train, seed } = message;
    this.desk.begin({
      layout,
      stock,
      seed,
      ...(routes === undefined ? {} : { routes }),
      ...(train === undefined ? {} : { train }),
    });
    return this.show();
  }

  /** Of the session that runs; its digest is worked out once. */
  #layout(): RouteTrialView['layout'] {
    const { layout } = this.sessions.files();
    let hash = this.#hashes.get(layout);
    if (hash === undefined) this.#hashes.set(layout, (hash = contentHash(layout)));
    return { name: layout.name, hash };
  }

  @Delete()
  @For('try-routes')
  @ApiOperation({ summary: 'Breaks the trial off; what was tried so far is reported' })
  @ApiResponse({ status: 200, schema: apiSchema(routeTrialView) })
  @ApiResponse({ status: 409, description: 'No trial goes on' })
  breakOff(): RouteTrialView {
    this.desk.breakOff();
    return this.show();
  }
}
