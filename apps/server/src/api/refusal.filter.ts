import {
  Catch,
  HttpException,
  Logger,
  type ArgumentsHost,
  type ExceptionFilter,
  type HttpServer,
} from '@nestjs/common';
import type { Refusal } from '@blockbell/railway';
import { RefusalException } from '../refusal/refusal.exception.js';

/** Answers every failed request in one shape: `{ ok: false, refusal: { code, text } }`. */
@Catch()
export class RefusalFilter implements ExceptionFilter {
  private readonly logger = new Logger(RefusalFilter.name);

  constructor(private readonly http: HttpServer) {}

  catch(error: unknown, host: ArgumentsHost): void {
    const response: unknown = host.switchToHttp().getResponse();
    if (error instanceof RefusalException) {
      this.http.reply(response, error.getResponse(), error.getStatus());
      return;
    }
    const status = statusOf(error);
    if (status >= 500) this.logger.error(error instanceof Error ? error.stack : String(error));
    this.http.reply(response, { ok: false, refusal: refusalFor(status, error) }, status);
  }
}

/** Errors of the body parser carry a status of their own. */
function statusOf(error: unknown): number {
  if (error instanceof HttpException) return error.getStatus();
  const status = error instanceof Error && 'status' in error ? error.status : undefined;
  return typeof status === 'number' && status >= 400 && status < 500 ? status : 500;
}

function refusalFor(status: number, error: unknown): Refusal {
  const why = error instanceof Error ? error.message : '';
  if (status === 404)
    return {
      code: 'not-found',
      text: 'There is nothing at this address; /api/docs lists what there is.',
    };
  if (status === 413) return { code: 'too-large', text: 'The request is larger than 20 MB.' };
  if (status < 500) return { code: 'bad-request', text: `The request can’t be read: ${why}` };
  return { code: 'server-fault', text: 'The server met a fault of its own; its log says more.' };
}
