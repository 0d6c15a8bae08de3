import type { PipeTransform } from '@nestjs/common';
import type { ApiBody } from '@nestjs/swagger';
import { z } from 'zod';
import { RefusalException } from '../refusal/refusal.exception.js';

/** Everything wrong in a message, in one sentence each. */
export const complaints = (error: z.ZodError): string =>
  error.issues
    .map(({ path, message }) => (path.length === 0 ? message : `${path.join('.')}: ${message}`))
    .join('; ');

/** Checks a body against its schema; refuses it with everything that is wrong. */
export class ZodBody<Schema extends z.ZodType> implements PipeTransform {
  constructor(private readonly schema: Schema) {}

  transform(value: unknown): z.infer<Schema> {
    const parsed = this.schema.safeParse(value);
    if (parsed.success) return parsed.data;
    throw new RefusalException(400, {
      code: 'bad-message',
      text: `The message is not as described: ${complaints(parsed.error)}`,
    });
  }
}

type ApiSchema = Extract<Parameters<typeof ApiBody>[0], { schema: unknown }>['schema'];

/** A zod schema as the API's description writes it. */
export const apiSchema = (schema: z.ZodType): ApiSchema =>
  z.toJSONSchema(schema, { target: 'openapi-3.0', io: 'input' }) as ApiSchema;
