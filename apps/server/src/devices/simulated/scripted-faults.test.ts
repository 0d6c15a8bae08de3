import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { smallWorld } from '../../testing/small-session.js';
import { temporaryFolder } from '../../testing/temporary-folder.js';
import { scriptedFaults } from './scripted-faults.js';

const folder = temporaryFolder();
afterAll(() => folder.remove());
const world = smallWorld();

const script = (...faults: readonly object[]): string => {
  const path = join(folder.path, 'faults.json');
  writeFileSync(path, JSON.stringify({ kind: 'blockbell-faults', version: 1, faults }));
  return path;
};

test('without a file nothing goes wrong', () => {
  expect(scriptedFaults(null, world)).toEqual({ ok: true, faults: [] });
});

test('a file names trains; the layout gets their numbers', () => {
  const path = script({ kind: 'stall', at: 1000, duration: null, train: 'T47' });
  expect(scriptedFaults(path, world)).toEqual({
    ok: true,
    faults: [{ kind: 'stall', at: 1000, duration: null, train: 1 }],
  });
});

test('a file for another layout is refused with its name and everything that does not fit', () => {
  const path = script(
    { kind: 'stall', at: 0, duration: null, train: 'T999' },
    { kind: 'dropout', at: 0, duration: 100, section: 'nowhere' },
  );
  const scripted = scriptedFaults(path, world);
  const text = scripted.ok ? '' : scripted.refusal.text;
  expect(text).toContain(path);
  expect(text).toContain('there is no train T999');
  expect(text).toContain('there is no section nowhere');
});

test('a file that is not there is refused with its name', () => {
  const path = join(folder.path, 'gone.json');
  const scripted = scriptedFaults(path, world);
  expect(scripted.ok ? '' : scripted.refusal.text).toContain(`${path} can’t happen`);
});
