import {
  Body,
  Controller,
  Delete,
  Get,
  HttpCode,
  Inject,
  Param,
  Post,
  StreamableFile,
} from '@nestjs/common';
import { ApiBody, ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import {
  rehearsalsMessage,
  rehearsalsView,
  type RehearsalsMessage,
  type RehearsalsView,
} from '@blockbell/contract';
import { refusal } from '@blockbell/railway';
import { isSameWay, USUAL_DISTURBANCES, type RehearsalPlan } from '@blockbell/rehearsals';
import { FileLibrary } from '../files/file-library.js';
import { RefusalException } from '../refusal/refusal.exception.js';
import { RehearsalDesk } from '../rehearsals/rehearsal-desk.js';
import { SessionService } from '../session/session.service.js';
import { For } from './sign-in.guard.js';
import { apiSchema, ZodBody } from './zod-body.js';

const WAYS = ['first', 'second'];
const SAME_WAY = refusal(
  'same-way',
  'The way to compare with is the same as the first. Choose another timetable, other staging rules or another way of dispatching.',
);
type WithRules = Pick<RehearsalPlan, 'rules'>;
const WAY = { name: 'way', enum: WAYS };

/** Sessions rehearsed in the background. */
@ApiTags('rehearsals')
@Controller('api/rehearsals')
export class RehearsalsController {
  constructor(
    @Inject(SessionService) private readonly sessions: SessionService,
    @Inject(FileLibrary) private readonly library: FileLibrary,
    @Inject(RehearsalDesk) private readonly desk: RehearsalDesk,
  ) {}

  @Get()
  @For('rehearse')
  @ApiOperation({ summary: 'How the rehearsals go on, or what the last ones came to' })
  @ApiResponse({ status: 200, schema: apiSchema(rehearsalsView) })
  show(): RehearsalsView {
    return { ok: true, usual: USUAL_DISTURBANCES, rehearsals: this.desk.view() };
  }

  @Post()
  @HttpCode(202)
  @For('rehearse')
  @ApiOperation({
    summary:
      'Rehearses sessions in the background, on the files of the session that runs, which is not touched',
  })
  @ApiBody({ schema: apiSchema(rehearsalsMessage) })
  @ApiResponse({ status: 202, schema: apiSchema(rehearsalsView) })
  @ApiResponse({ status: 400, description: 'The message is not as described' })
  @ApiResponse({ status: 404, description: 'No stored file has this hash' })
  @ApiResponse({ status: 409, description: 'Rehearsals go on already' })
  @ApiResponse({
    status: 422,
    description:
      'The other timetable or staging rules do not fit, all faults are listed; or the other way is the same as the first',
  })
  async begin(
    @Body(new ZodBody(rehearsalsMessage)) message: RehearsalsMessage,
  ): Promise<RehearsalsView> {
    const { layout, stock, timetable } = this.sessions.files();
    const { sessions, seed, dispatching, returns, against } = message;
    const disturbances = message.disturbances ?? USUAL_DISTURBANCES;
    const rulesIn = async (hash: string | null | undefined): Promise<WithRules> =>
      hash === undefined || hash === null
        ? {}
        : { rules: await this.library.stagingRules(hash, layout, stock) };
    const plain = { layout, stock, timetable, disturbances, dispatching, returns };
    const first: RehearsalPlan = { ...plain, ...(await rulesIn(message.rules)) };
    const plans = [first];
    if (against !== undefined) {
      const other =
        against.timetable === undefined
          ? timetable
          : (await this.library.together({ layout, stock, timetable: against.timetable }))
              .timetable;
      const second: RehearsalPlan = {
        ...plain,
        timetable: other,
        dispatching: against.dispatching ?? dispatching,
        ...(await rulesIn(against.rules === undefined ? message.rules : against.rules)),
      };
      if (isSameWay(first, second)) throw new RefusalException(422, SAME_WAY);
      plans.push(second);
    }
    this.desk.begin({ plans, sessions, seed });
    return this.show();
  }

  @Delete()
  @For('rehearse')
  @ApiOperation({ summary: 'Breaks the rehearsals off; what was run so far is reported' })
  @ApiResponse({ status: 200, schema: apiSchema(rehearsalsView) })
  @ApiResponse({ status: 409, description: 'No rehearsals go on' })
  breakOff(): RehearsalsView {
    this.desk.breakOff();
    return this.show();
  }

  @Get('report.json')
  @For('rehearse')
  @ApiOperation({ summary: 'The whole report, for programs' })
  @ApiResponse({ status: 200, schema: { type: 'object' } })
  @ApiResponse({ status: 404, description: 'There is no report yet' })
  report(): StreamableFile {
    return this.text('report.json', 'application/json; charset=utf-8');
  }

  @Get('report.html')
  @For('rehearse')
  @ApiOperation({ summary: 'The whole report as a page to print' })
  @ApiResponse({ status: 200, description: 'A page that stands alone' })
  @ApiResponse({ status: 404, description: 'There is no report yet' })
  page(): StreamableFile {
    return this.text(
      'report.html',
      'text/html; charset=utf-8',
      'attachment; filename="rehearsals.html"',
    );
  }

  @Get(':way/pictures/:name')
  @For('rehearse')
  @ApiOperation({ summary: 'A picture of the report' })
  @ApiParam(WAY)
  @ApiParam({ name: 'name', description: 'with .svg' })
  @ApiResponse({ status: 200, description: 'SVG' })
  @ApiResponse({ status: 404, description: 'There is no such picture' })
  picture(@Param('way') way: string, @Param('name') name: string): StreamableFile {
    const file = name.endsWith('.svg') ? name : `${name}.svg`;
    return this.text(`${way}/pictures/${file}`, 'image/svg+xml; charset=utf-8');
  }

  @Get(':way/tables/:name')
  @For('rehearse')
  @ApiOperation({ summary: 'A table of the report' })
  @ApiParam(WAY)
  @ApiParam({ name: 'name', description: 'with .csv' })
  @ApiResponse({ status: 200, description: 'CSV' })
  @ApiResponse({ status: 404, description: 'There is no such table' })
  table(@Param('way') way: string, @Param('name') name: string): StreamableFile {
    const file = name.endsWith('.csv') ? name : `${name}.csv`;
    return this.text(`${way}/tables/${file}`, 'text/csv; charset=utf-8');
  }

  private text(name: string, type: string, disposition?: string): StreamableFile {
    const text = Buffer.from(this.desk.text(name));
    return new StreamableFile(text, { type, ...(disposition && { disposition }) });
  }
}
