import { Module } from '@nestjs/common';
import { FileLibrary } from '../files/file-library.js';
import { KeptRecordings } from '../recording/kept-recordings.js';
import { SessionArchive } from '../recording/session-archive.js';
import { SessionService } from './session.service.js';

@Module({
  providers: [SessionService, FileLibrary, KeptRecordings, SessionArchive],
  exports: [SessionService, FileLibrary, SessionArchive],
})
export class SessionModule {}
