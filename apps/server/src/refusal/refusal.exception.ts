import { HttpException } from '@nestjs/common';
import type { Refusal } from '@blockbell/railway';

/** A request that is not done, with the reason and, for a file, everything wrong in it. */
export class RefusalException extends HttpException {
  constructor(
    status: number,
    readonly refusal: Refusal,
    readonly faults?: readonly unknown[],
  ) {
    super({ ok: false, refusal, ...(faults === undefined ? {} : { faults }) }, status);
    this.message = refusal.text;
  }
}
