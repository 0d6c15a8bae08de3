import { Module, type DynamicModule, type INestApplication } from '@nestjs/common';
import { NestFactory } from '@nestjs/core';
import type { NestExpressApplication } from '@nestjs/platform-express';
import { ApiModule } from './api/api.module.js';
import { BOARD_FOLDER, serveBoard } from './api/board-pages.js';
import { doorFor } from './api/door.js';
import { GuardedIoAdapter } from './api/guarded-io.adapter.js';
import { serveApiDescription } from './api/openapi.js';
import { guardOrigin } from './api/origin.guard.js';
import { RefusalFilter } from './api/refusal.filter.js';
import { SETTINGS, type Settings } from './config/settings.js';
import { StorageModule } from './storage/storage.module.js';

/** Large enough for a layout of thousands of sections. */
const BODY_LIMIT = '20mb';

@Module({})
class ServerModule {
  static with(settings: Settings): DynamicModule {
    return {
      module: ServerModule,
      global: true,
      imports: [StorageModule.in(settings.dataFolder), ApiModule],
      providers: [{ provide: SETTINGS, useValue: settings }],
      exports: [SETTINGS],
    };
  }
}

/** The whole server, ready to listen; nothing runs before it is told to. */
export async function createServer(settings: Settings): Promise<INestApplication> {
  const app = await NestFactory.create<NestExpressApplication>(ServerModule.with(settings), {
    logger: ['warn', 'error', 'fatal'],
    abortOnError: false,
    forceCloseConnections: true,
    bodyParser: false,
  });
  const door = doorFor(settings);
  app.use(guardOrigin(door));
  app.useBodyParser('json', { limit: BODY_LIMIT });
  serveBoard(app, BOARD_FOLDER);
  app.useWebSocketAdapter(new GuardedIoAdapter(app, door));
  app.useGlobalFilters(new RefusalFilter(app.getHttpAdapter()));
  serveApiDescription(app);
  return app;
}
