import { Module } from '@nestjs/common';
import { FileLibrary } from '../files/file-library.js';
import { KeptRecordings } from '../recording/kept-recordings.js';
import { SessionArchive } from '../recording/session-archive.js';
import { KEEPERS, keepersInThreads } from '../follower/keepers.js';
import { PLANNERS, plannersInThreads } from '../planning/planners.js';
import { CHECKERS, checkersInThreads } from '../timetables/checkers.js';
import { RehearsalDesk } from '../rehearsals/rehearsal-desk.js';
import { REHEARSERS, rehearsersInThreads } from '../rehearsals/rehearsers.js';
import { SummaryDesk } from '../summaries/summary-desk.js';
import { TimetableDesk } from '../timetables/timetable-desk.js';
import { ReturnDesk } from '../returns/return-desk.js';
import { TrialDesk } from '../trials/trial-desk.js';
import { TRIERS, triersInThreads } from '../trials/triers.js';
import { FORETELLERS, foretellersInThreads } from '../what-if/foretellers.js';
import { WhatIfDesk } from '../what-if/what-if-desk.js';
import { FollowOn } from './follow-on.js';
import { PeopleModule } from '../people/people.module.js';
import { SessionService } from './session.service.js';

@Module({
  imports: [PeopleModule],
  providers: [
    SessionService,
    FileLibrary,
    KeptRecordings,
    SessionArchive,
    FollowOn,
    TimetableDesk,
    RehearsalDesk,
    ReturnDesk,
    SummaryDesk,
    TrialDesk,
    WhatIfDesk,
    { provide: FORETELLERS, useValue: foretellersInThreads },
    { provide: REHEARSERS, useValue: rehearsersInThreads },
    { provide: TRIERS, useValue: triersInThreads },
    { provide: CHECKERS, useValue: checkersInThreads },
    { provide: KEEPERS, useValue: keepersInThreads },
    { provide: PLANNERS, useValue: plannersInThreads },
  ],
  exports: [
    SessionService,
    FileLibrary,
    SessionArchive,
    FollowOn,
    TimetableDesk,
    RehearsalDesk,
    ReturnDesk,
    SummaryDesk,
    TrialDesk,
    WhatIfDesk,
  ],
})
export class SessionModule {}
