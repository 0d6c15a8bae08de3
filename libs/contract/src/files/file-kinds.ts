import type { LayoutFile, StagingRulesFile, StockFile, TimetableFile } from '@blockbell/railway';
import type { z } from 'zod';
import { layoutSchema } from './layout-schema.js';
import { stagingRulesSchema } from './staging-rules-schema.js';
import { stockSchema } from './stock-schema.js';
import { timetableSchema } from './timetable-schema.js';

/** Any file a builder, an owner or a planner writes. */
export type AnyFile = LayoutFile | StockFile | TimetableFile | StagingRulesFile;
export type FileKind = AnyFile['kind'];

/** The schema of each kind of file, in its current format version. */
export const FILE_SCHEMAS: Readonly<Record<FileKind, z.ZodType<AnyFile>>> = {
  'blockbell-layout': layoutSchema,
  'blockbell-stock': stockSchema,
  'blockbell-timetable': timetableSchema,
  'blockbell-staging-rules': stagingRulesSchema,
};

export const FILE_KINDS: readonly FileKind[] = [
  'blockbell-layout',
  'blockbell-stock',
  'blockbell-timetable',
  'blockbell-staging-rules',
];

/** The format version of each kind that this program reads and writes. */
export const FORMAT_VERSIONS: Readonly<Record<FileKind, number>> = {
  'blockbell-layout': 1,
  'blockbell-stock': 1,
  'blockbell-timetable': 1,
  'blockbell-staging-rules': 1,
};

export const isFileKind = (value: unknown): value is FileKind =>
  FILE_KINDS.some((kind) => kind === value);
