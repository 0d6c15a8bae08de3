import { Body, Controller, Get, Inject, Param, Post } from '@nestjs/common';
import { ApiBody, ApiOperation, ApiParam, ApiResponse, ApiTags } from '@nestjs/swagger';
import { FileLibrary } from '../files/file-library.js';
import { For } from './sign-in.guard.js';
import type { FileSummary } from '../storage/file-store.js';

/** Layout, stock and timetable files. */
@ApiTags('files')
@Controller('api')
export class FileController {
  constructor(@Inject(FileLibrary) private readonly library: FileLibrary) {}

  @Get('examples')
  @ApiOperation({ summary: 'The examples a session can begin with' })
  @ApiResponse({ status: 200, schema: { type: 'array', items: { type: 'string' } } })
  examples(): readonly string[] {
    return this.library.exampleNames();
  }

  @Get('files')
  @ApiOperation({ summary: 'The stored files, oldest first' })
  @ApiResponse({ status: 200, schema: { type: 'array', items: { type: 'object' } } })
  list(): Promise<FileSummary[]> {
    return this.library.list();
  }

  @Get('files/:hash')
  @ApiOperation({ summary: 'A stored file' })
  @ApiParam({ name: 'hash', description: 'Its content hash' })
  @ApiResponse({ status: 200, schema: { type: 'object' } })
  @ApiResponse({ status: 404, description: 'No file has this hash' })
  find(@Param('hash') hash: string): Promise<object> {
    return this.library.find(hash);
  }

  @Post('files')
  @For('store-file')
  @ApiOperation({ summary: 'Check a file and keep it' })
  @ApiBody({ schema: { type: 'object', description: 'A layout, stock or timetable file' } })
  @ApiResponse({ status: 201, schema: { type: 'object' } })
  @ApiResponse({ status: 422, description: 'The file has faults; all of them are listed' })
  async store(@Body() file: unknown): Promise<{ ok: true; file: FileSummary }> {
    return { ok: true, file: await this.library.store(file) };
  }
}
