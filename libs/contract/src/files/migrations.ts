import type { Fault } from '@blockbell/railway';
import { FORMAT_VERSIONS } from './file-kinds.js';
import type { FileKind } from './file-kinds.js';

/** A file as parsed from JSON, before its schema is applied. */
export type JsonObject = Readonly<Record<string, unknown>>;

/** Turns a file of one format version into the next. Its own `version` field is set by the caller. */
export type Migration = (file: JsonObject) => JsonObject;

/** What is needed to read older files: the version read now, and a migration from each older one. */
export interface MigrationPath {
  readonly current: number;
  readonly from: ReadonlyMap<number, Migration>;
}

/** No older format has been published yet; a new version adds its migration here. */
export const MIGRATIONS: Readonly<Record<FileKind, MigrationPath>> = {
  'blockbell-layout': { current: FORMAT_VERSIONS['blockbell-layout'], from: new Map() },
  'blockbell-stock': { current: FORMAT_VERSIONS['blockbell-stock'], from: new Map() },
  'blockbell-timetable': { current: FORMAT_VERSIONS['blockbell-timetable'], from: new Map() },
  'blockbell-staging-rules': {
    current: FORMAT_VERSIONS['blockbell-staging-rules'],
    from: new Map(),
  },
};

export type Migrated =
  { readonly ok: true; readonly json: JsonObject } | { readonly ok: false; readonly fault: Fault };

/** Brings a file to the current format version, step by step. A newer one is refused, with the reason. */
export function migrate(
  kind: FileKind,
  json: JsonObject,
  path: MigrationPath = MIGRATIONS[kind],
): Migrated {
  const { version } = json;
  if (typeof version !== 'number' || !Number.isInteger(version)) {
    return refuse(
      'the file names no format version',
      `add "version": ${path.current} if it is written in the current format`,
    );
  }
  if (version > path.current) {
    return refuse(
      `the file has format version ${version}; this program reads ${kind} files up to version ${path.current}`,
      'update this program, or save the file in the older format',
    );
  }
  let migrated = json;
  for (let at = version; at < path.current; at++) {
    const step = path.from.get(at);
    if (step === undefined) {
      return refuse(
        `the file has format version ${version}; this program reads ${kind} files of version ${path.current} and can not migrate version ${at}`,
        `write the file in format version ${path.current}`,
      );
    }
    migrated = { ...step(migrated), version: at + 1 };
  }
  return { ok: true, json: migrated };
}

const refuse = (text: string, mend: string): Migrated => ({
  ok: false,
  fault: { place: 'version', text, mend },
});
