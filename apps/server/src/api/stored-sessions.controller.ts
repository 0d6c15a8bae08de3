import { Controller, Get, Header, Inject, Param } from '@nestjs/common';
import { ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import {
  recordingIndex,
  recordingPart,
  sessionSummaryAnswer,
  storedSessionList,
  type RecordingIndex,
  type SessionSummaryAnswer,
  type StoredSessionView,
} from '@blockbell/contract';
import { SessionArchive, type ArchivedFiles } from '../recording/session-archive.js';
import { SummaryDesk } from '../summaries/summary-desk.js';
import { For } from './sign-in.guard.js';
import { apiSchema } from './zod-body.js';

const NUMBER = { name: 'id', description: 'Number of the session', schema: { type: 'integer' } };

/** Sessions that ran, and the one that runs, to be looked at again. */
@ApiTags('stored sessions')
@Controller('api/sessions')
export class StoredSessionsController {
  constructor(
    @Inject(SessionArchive) private readonly archive: SessionArchive,
    @Inject(SummaryDesk) private readonly summaries: SummaryDesk,
  ) {}

  @Get()
  @ApiOperation({ summary: 'The stored sessions, the newest first' })
  @ApiResponse({ status: 200, schema: apiSchema(storedSessionList) })
  list(): Promise<StoredSessionView[]> {
    return this.archive.list();
  }

  @Get(':id/recording')
  @ApiOperation({
    summary: 'What was recorded of a session: spans, parts, gaps, and moments worth going to',
  })
  @ApiParam(NUMBER)
  @ApiResponse({ status: 200, schema: apiSchema(recordingIndex) })
  @ApiResponse({ status: 404, description: 'No session has this number' })
  recording(@Param('id') id: string): Promise<RecordingIndex> {
    return this.archive.index(numberIn(id));
  }

  @Get(':id/recording/:part')
  @Header('Content-Type', 'application/json; charset=utf-8')
  @ApiOperation({ summary: 'One part of a recording: a key frame and the deltas after it' })
  @ApiParam(NUMBER)
  @ApiParam({ name: 'part', description: 'As in the index', schema: { type: 'integer' } })
  @ApiResponse({ status: 200, schema: apiSchema(recordingPart) })
  @ApiResponse({ status: 404, description: 'There is no such session, or no such part' })
  part(@Param('id') id: string, @Param('part') part: string): Promise<string> {
    return this.archive.part(numberIn(id), numberIn(part));
  }

  @Get(':id/files')
  @ApiOperation({ summary: 'The layout, stock and timetable files a session was frozen to' })
  @ApiParam(NUMBER)
  @ApiResponse({ status: 200, schema: { type: 'object' } })
  @ApiResponse({ status: 404, description: 'No session has this number' })
  @ApiResponse({ status: 409, description: 'A file is not one that this version can read' })
  files(@Param('id') id: string): Promise<ArchivedFiles> {
    return this.archive.files(numberIn(id));
  }

  @Get(':id/summary')
  @For('summarise')
  @ApiOperation({
    summary: 'How a session went: services, delays, alarms, and who tells badly where trains are',
  })
  @ApiParam(NUMBER)
  @ApiResponse({ status: 200, schema: apiSchema(sessionSummaryAnswer) })
  @ApiResponse({ status: 404, description: 'No session has this number' })
  @ApiResponse({ status: 409, description: 'A file is not one that this version can read' })
  @ApiResponse({
    status: 503,
    description: 'It could not be summarised, or too many are asked for',
  })
  summary(@Param('id') id: string): Promise<SessionSummaryAnswer> {
    return this.summaries.summarise(() => this.archive.summaryOf(numberIn(id)));
  }
}

/** -1, which nothing has, for what is no number. */
const numberIn = (text: string): number => (/^\d{1,9}$/.test(text) ? Number(text) : -1);
