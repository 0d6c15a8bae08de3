import { Controller, Get, Inject } from '@nestjs/common';
import { ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import { SessionService } from '../session/session.service.js';

/** Whether the server does its work. */
@ApiTags('health')
@Controller('api/health')
export class HealthController {
  constructor(@Inject(SessionService) private readonly sessions: SessionService) {}

  @Get()
  @ApiOperation({
    summary: 'Whether the server runs, on which session, and whether its journal is written',
  })
  @ApiResponse({ status: 200, schema: { type: 'object' } })
  health(): { ok: true; session: string; journal: 'written' | 'failing' } {
    return { ok: true, ...this.sessions.health() };
  }
}
