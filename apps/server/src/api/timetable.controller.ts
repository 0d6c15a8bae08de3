import { Body, Controller, HttpCode, Inject, Post } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import {
  timetableCheckMessage,
  timetableCheckView,
  type TimetableCheckMessage,
  type TimetableCheckView,
} from '@blockbell/contract';
import { FileLibrary } from '../files/file-library.js';
import { SessionService } from '../session/session.service.js';
import { TimetableDesk } from '../timetables/timetable-desk.js';
import { For } from './sign-in.guard.js';
import { apiSchema, ZodBody } from './zod-body.js';

/** Work on timetables. */
@ApiTags('timetables')
@Controller('api/timetables')
export class TimetableController {
  constructor(
    @Inject(SessionService) private readonly sessions: SessionService,
    @Inject(FileLibrary) private readonly library: FileLibrary,
    @Inject(TimetableDesk) private readonly desk: TimetableDesk,
  ) {}

  @Post('check')
  @HttpCode(200)
  @For('check-timetable')
  @ApiOperation({
    summary: 'What trains can’t keep in a timetable on the layout of the session that runs',
  })
  @ApiBody({ schema: apiSchema(timetableCheckMessage) })
  @ApiResponse({ status: 200, schema: apiSchema(timetableCheckView) })
  @ApiResponse({ status: 400, description: 'The message is not as described' })
  @ApiResponse({ status: 404, description: 'No stored file has this hash' })
  @ApiResponse({ status: 422, description: 'It is no timetable file; all faults are listed' })
  async check(
    @Body(new ZodBody(timetableCheckMessage)) { timetable }: TimetableCheckMessage,
  ): Promise<TimetableCheckView> {
    const files = this.sessions.files();
    const asked =
      timetable === undefined ? files.timetable : await this.library.timetable(timetable);
    return { ok: true, ...(await this.desk.check(files, asked)) };
  }
}
