import { Module } from '@nestjs/common';
import { FileLibrary } from '../files/file-library.js';
import { SessionService } from './session.service.js';

@Module({
  providers: [SessionService, FileLibrary],
  exports: [SessionService, FileLibrary],
})
export class SessionModule {}
