import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll } from 'vitest';

/** What goes wrong on the simulated layout: `path` is the file a server reads with each session it begins. */
export interface FaultFile {
  readonly path: string;
  script(...faults: readonly object[]): void;
}

/** A file of scripted faults, empty at first, removed after the tests of the file that asks for it. */
export function useFaults(): FaultFile {
  const folder = mkdtempSync(join(tmpdir(), 'blockbell-fault-'));
  afterAll(() => rmSync(folder, { recursive: true }));
  const path = join(folder, 'faults.json');
  const script = (...faults: readonly object[]): void =>
    writeFileSync(path, JSON.stringify({ kind: 'blockbell-faults', version: 1, faults }));
  script();
  return { path, script };
}

/** Writes a file with one fault for the simulated layout; where it is. */
export function useFault(fault: object): string {
  const { path, script } = useFaults();
  script(fault);
  return path;
}
