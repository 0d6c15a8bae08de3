import { Controller, Get, Inject } from '@nestjs/common';
import { ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import { RefusalException } from '../refusal/refusal.exception.js';
import { SessionService, type Health } from '../session/session.service.js';
import { For } from './sign-in.guard.js';

/** What the server holds in memory, bytes. */
interface Memory {
  readonly resident: number;
  readonly heap: number;
}

/** Whether the server does its work. */
@ApiTags('health')
@Controller('api/health')
export class HealthController {
  constructor(@Inject(SessionService) private readonly sessions: SessionService) {}

  @Get()
  @For('everybody')
  @ApiOperation({ summary: 'Whether the session’s engine runs and its journal is written' })
  @ApiResponse({ status: 200, schema: { type: 'object' } })
  @ApiResponse({ status: 503, description: 'The engine met a fault and was stopped' })
  health(): { ok: true; memory: Memory } & Health {
    const health = this.sessions.health();
    if (health.engine === 'failed')
      throw new RefusalException(503, {
        code: 'engine-failed',
        text: 'The session met a fault of the program and was stopped; start a new session.',
      });
    return { ok: true, ...health, memory: memory() };
  }
}

function memory(): Memory {
  const { rss, heapUsed } = process.memoryUsage();
  return { resident: rss, heap: heapUsed };
}
