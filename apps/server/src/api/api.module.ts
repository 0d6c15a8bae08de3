import { Module } from '@nestjs/common';
import { APP_GUARD } from '@nestjs/core';
import { CommandDesk } from '../people/command-desk.js';
import { PeopleModule } from '../people/people.module.js';
import { SessionModule } from '../session/session.module.js';
import { BoardGateway } from './board.gateway.js';
import { FileController } from './file.controller.js';
import { HealthController } from './health.controller.js';
import { StoredSessionsController } from './stored-sessions.controller.js';
import { PeopleController } from './people.controller.js';
import { ReturnController } from './return.controller.js';
import { RehearsalsController } from './rehearsals.controller.js';
import { SessionController } from './session.controller.js';
import { SignInController } from './sign-in.controller.js';
import { TimetableController } from './timetable.controller.js';
import { TrialController } from './trial.controller.js';
import { WhatIfController } from './what-if.controller.js';
import { SignInGuard } from './sign-in.guard.js';

@Module({
  imports: [SessionModule, PeopleModule],
  controllers: [
    HealthController,
    SessionController,
    FileController,
    TimetableController,
    TrialController,
    RehearsalsController,
    ReturnController,
    WhatIfController,
    StoredSessionsController,
    SignInController,
    PeopleController,
  ],
  providers: [BoardGateway, CommandDesk, { provide: APP_GUARD, useClass: SignInGuard }],
})
export class ApiModule {}
