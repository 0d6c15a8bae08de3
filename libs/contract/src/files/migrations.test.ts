import { describe, expect, it } from 'vitest';
import { FILE_KINDS } from './file-kinds.js';
import { migrate, MIGRATIONS } from './migrations.js';
import type { Migration, MigrationPath } from './migrations.js';

/** A path made up for this test: version 1 called the name a title, version 2 had no day. */
const PATH: MigrationPath = {
  current: 3,
  from: new Map<number, Migration>([
    [1, ({ title, ...rest }) => ({ ...rest, name: title })],
    [2, (file) => ({ ...file, day: 'every day' })],
  ]),
};

describe('migrate', () => {
  it('brings an older file up step by step', () => {
    expect(migrate('blockbell-timetable', { version: 1, title: 'A' }, PATH)).toEqual({
      ok: true,
      json: { version: 3, name: 'A', day: 'every day' },
    });
    expect(migrate('blockbell-timetable', { version: 2, name: 'A' }, PATH)).toEqual({
      ok: true,
      json: { version: 3, name: 'A', day: 'every day' },
    });
  });

  it('leaves a current file as it is, and never changes what it was given', () => {
    const current = { version: 3, name: 'A' };
    expect(migrate('blockbell-timetable', current, PATH)).toEqual({ ok: true, json: current });
    const old = Object.freeze({ version: 1, title: 'A' });
    migrate('blockbell-timetable', old, PATH);
    expect(old).toEqual({ version: 1, title: 'A' });
  });

  it('refuses a newer file and names the version it reads', () => {
    const outcome = migrate('blockbell-layout', { version: 4 }, PATH);
    expect(outcome).toMatchObject({ ok: false, fault: { place: 'version' } });
    expect(!outcome.ok && outcome.fault.text).toBe(
      'the file has format version 4; this program reads blockbell-layout files up to version 3',
    );
  });

  it('refuses an older file that nothing migrates', () => {
    const outcome = migrate('blockbell-stock', { version: 0 }, PATH);
    expect(!outcome.ok && outcome.fault.text).toMatch(
      /reads blockbell-stock files of version 3.*can not migrate version 0/,
    );
  });

  it.each([undefined, '1', 1.5, null])('refuses %j as a version', (version) => {
    const outcome = migrate('blockbell-stock', { version }, PATH);
    expect(!outcome.ok && outcome.fault).toMatchObject({
      text: 'the file names no format version',
      mend: expect.stringContaining('"version": 3'),
    });
  });

  it('knows a way from every version in between, for each kind', () => {
    for (const kind of FILE_KINDS) {
      const { current, from } = MIGRATIONS[kind];
      const known = [...from.keys()].sort((left, right) => left - right);
      known.forEach((version, index) => expect(version).toBe(current - known.length + index));
    }
  });
});
