import { z } from 'zod';
import { disturbancesSchema } from './disturbances-schema.js';
import { FILE_KINDS, FILE_SCHEMAS, FORMAT_VERSIONS } from './file-kinds.js';

/** A JSON Schema document and the name of the file it is kept in. */
export interface JsonSchemaDocument {
  readonly fileName: string;
  readonly text: string;
}

/** The JSON Schema (draft 2020-12) of every kind of file, for editors and other programs. */
export const jsonSchemas = (): readonly JsonSchemaDocument[] => [
  ...FILE_KINDS.map((kind) => document(kind, FORMAT_VERSIONS[kind], FILE_SCHEMAS[kind])),
  document('blockbell-disturbances', 1, disturbancesSchema),
];

const document = (kind: string, version: number, schema: z.ZodType): JsonSchemaDocument => ({
  fileName: `${kind}.schema.json`,
  text: `${JSON.stringify(
    { title: `${kind} file, format version ${version}`, ...z.toJSONSchema(schema) },
    null,
    2,
  )}\n`,
});
