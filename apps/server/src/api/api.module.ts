import { Module } from '@nestjs/common';
import { SessionModule } from '../session/session.module.js';
import { BoardGateway } from './board.gateway.js';
import { FileController } from './file.controller.js';
import { HealthController } from './health.controller.js';
import { StoredSessionsController } from './stored-sessions.controller.js';
import { SessionController } from './session.controller.js';

@Module({
  imports: [SessionModule],
  controllers: [HealthController, SessionController, FileController, StoredSessionsController],
  providers: [BoardGateway],
})
export class ApiModule {}
