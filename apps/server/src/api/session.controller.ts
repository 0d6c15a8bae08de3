import { Body, Controller, Get, HttpCode, Inject, Post } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiResponse, ApiTags } from '@nestjs/swagger';
import {
  answerMessage,
  commandMessage,
  crewMessage,
  paceMessage,
  snapshotMessage,
  type AnswerMessage,
  type CommandMessage,
  type CrewMessage,
  type PaceMessage,
  type SnapshotMessage,
} from '@blockbell/contract';
import type { Places } from '@blockbell/drawing';
import type { LayoutFile, Refusal, StockFile, TimetableFile } from '@blockbell/railway';
import { FileLibrary } from '../files/file-library.js';
import { FollowOn } from '../session/follow-on.js';
import { CommandDesk } from '../people/command-desk.js';
import type { Asker } from '../people/leave.js';
import { SessionService } from '../session/session.service.js';
import { newSessionMessage, type NewSessionMessage } from './new-session.js';
import { RefusalException } from '../refusal/refusal.exception.js';
import { Asking, For } from './sign-in.guard.js';
import { apiSchema, ZodBody } from './zod-body.js';

const ANSWER = apiSchema(answerMessage);

interface FilesAnswer {
  /** Id of the session. */
  readonly session: string;
  readonly layout: LayoutFile;
  readonly stock: StockFile;
  readonly timetable: TimetableFile;
  readonly places: Places;
}

/** The session that runs. */
@ApiTags('session')
@Controller('api/session')
export class SessionController {
  constructor(
    @Inject(CommandDesk) private readonly desk: CommandDesk,
    @Inject(SessionService) private readonly sessions: SessionService,
    @Inject(FileLibrary) private readonly library: FileLibrary,
    @Inject(FollowOn) private readonly followOn: FollowOn,
  ) {}

  @Get()
  @ApiOperation({ summary: 'Everything a board sees, now' })
  @ApiResponse({ status: 200, schema: apiSchema(snapshotMessage) })
  snapshot(): SnapshotMessage {
    return this.sessions.snapshot();
  }

  @Get('files')
  @ApiOperation({
    summary:
      'The layout, stock and timetable files this session is frozen to, and where elements without a place are drawn',
  })
  @ApiResponse({ status: 200, schema: { type: 'object' } })
  files(): FilesAnswer {
    const { layout, stock, timetable, places } = this.sessions.files();
    return { session: this.sessions.id, layout, stock, timetable, places };
  }

  @Post()
  @For('begin-session')
  @ApiOperation({ summary: 'Put the present session away and begin another' })
  @ApiBody({ schema: apiSchema(newSessionMessage) })
  @ApiResponse({ status: 201, schema: ANSWER })
  @ApiResponse({ status: 400, description: 'The message is not as described' })
  @ApiResponse({ status: 404, description: 'A file or example is not known' })
  @ApiResponse({
    status: 409,
    description: 'The present session runs, or the session named left no line-up',
  })
  @ApiResponse({ status: 422, description: 'The files have faults; all of them are listed' })
  async begin(
    @Body(new ZodBody(newSessionMessage)) message: NewSessionMessage,
    @Asking() asker: Asker,
  ): Promise<AnswerMessage> {
    const files =
      'example' in message
        ? await this.library.example(message.example)
        : 'after' in message
          ? await this.followOn.filesAfter(message.after)
          : await this.library.together(message.files);
    return accepted(await this.sessions.replace(asker?.name ?? message.by, files));
  }

  @Post('command')
  @HttpCode(200)
  @ApiOperation({ summary: 'Give a command; the same as over the socket' })
  @ApiBody({ schema: apiSchema(commandMessage) })
  @ApiResponse({ status: 200, schema: ANSWER })
  @ApiResponse({ status: 400, description: 'The message is not as described' })
  @ApiResponse({ status: 403, description: 'The role of who is signed in does not allow it' })
  @ApiResponse({ status: 409, description: 'The command is refused, with the reason' })
  async command(
    @Body(new ZodBody(commandMessage)) message: CommandMessage,
    @Asking() asker: Asker,
  ): Promise<AnswerMessage> {
    return accepted(await this.desk.give(asker, message));
  }

  @Post('pace')
  @HttpCode(200)
  @ApiOperation({ summary: 'Set how fast the simulated time runs' })
  @ApiBody({ schema: apiSchema(paceMessage) })
  @ApiResponse({ status: 200, schema: ANSWER })
  @ApiResponse({ status: 400, description: 'The message is not as described' })
  @ApiResponse({ status: 409, description: 'The layout is real: its time runs as it does' })
  async pace(
    @Body(new ZodBody(paceMessage)) message: PaceMessage,
    @Asking() asker: Asker,
  ): Promise<AnswerMessage> {
    return accepted(await this.desk.setPace(asker, message));
  }

  @Post('crew')
  @HttpCode(200)
  @ApiOperation({ summary: 'Put a crew on a train, or take it off' })
  @ApiBody({ schema: apiSchema(crewMessage) })
  @ApiResponse({ status: 200, schema: ANSWER })
  @ApiResponse({ status: 400, description: 'The message is not as described' })
  @ApiResponse({ status: 409, description: 'It is refused, with the reason' })
  async crew(
    @Body(new ZodBody(crewMessage)) message: CrewMessage,
    @Asking() asker: Asker,
  ): Promise<AnswerMessage> {
    return accepted(await this.desk.putCrew(asker, message));
  }
}

function accepted(refused: Refusal | null): AnswerMessage {
  if (refused !== null)
    throw new RefusalException(refused.code === 'not-allowed' ? 403 : 409, refused);
  return { ok: true };
}
