import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { Module, type DynamicModule } from '@nestjs/common';
import { TypeOrmModule } from '@nestjs/typeorm';
import { RecordingStore } from '../recording/recording-store.js';
import { CrewStore } from './crew-store.js';
import { databaseOptions, ENTITIES } from './database.js';
import { FileStore } from './file-store.js';
import { JournalStore } from './journal-store.js';
import { PersonStore } from './person-store.js';
import { RunStore } from './run-store.js';
import { SessionStore } from './session-store.js';

const STORES = [
  FileStore,
  SessionStore,
  JournalStore,
  PersonStore,
  CrewStore,
  RecordingStore,
  RunStore,
];

@Module({})
export class StorageModule {
  /** Keeps everything in `blockbell.sqlite` in that folder, which is made if it is missing. */
  static in(folder: string): DynamicModule {
    mkdirSync(folder, { recursive: true });
    return {
      module: StorageModule,
      global: true,
      imports: [
        TypeOrmModule.forRoot({
          ...databaseOptions(join(folder, 'blockbell.sqlite')),
          retryAttempts: 0,
        }),
        TypeOrmModule.forFeature(ENTITIES),
      ],
      providers: STORES,
      exports: STORES,
    };
  }
}
