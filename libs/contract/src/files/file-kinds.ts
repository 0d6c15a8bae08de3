import type { LayoutFile, StockFile, TimetableFile } from '@blockbell/railway';
import type { z } from 'zod';
import { layoutSchema } from './layout-schema.js';
import { stockSchema } from './stock-schema.js';
import { timetableSchema } from './timetable-schema.js';

/** Any file a builder, an owner or a planner writes. */
export type AnyFile = LayoutFile | StockFile | TimetableFile;
export type FileKind = AnyFile['kind'];

/** The schema of each kind of file, in its current format version. */
export const FILE_SCHEMAS: Readonly<Record<FileKind, z.ZodType<AnyFile>>> = {
  'blockbell-layout': layoutSchema,
  'blockbell-stock': stockSchema,
  'blockbell-timetable': timetableSchema,
};

export const FILE_KINDS: readonly FileKind[] = [
  'blockbell-layout',
  'blockbell-stock',
  'blockbell-timetable',
];

/** The format version of each kind that this program reads and writes. */
export const FORMAT_VERSIONS: Readonly<Record<FileKind, number>> = {
  'blockbell-layout': 1,
  'blockbell-stock': 1,
  'blockbell-timetable': 1,
};

export const isFileKind = (value: unknown): value is FileKind =>
  FILE_KINDS.some((kind) => kind === value);
