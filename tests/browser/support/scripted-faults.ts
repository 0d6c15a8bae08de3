import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** Writes a file with one fault for the simulated layout, removed after the file's tests; where it is. */
export function useFault(fault: object): string {
  const folder = mkdtempSync(join(tmpdir(), 'blockbell-fault-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const path = join(folder, 'faults.json');
  writeFileSync(path, JSON.stringify({ kind: 'blockbell-faults', version: 1, faults: [fault] }));
  return path;
}
