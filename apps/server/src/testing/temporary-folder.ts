import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A fresh folder for one test's database. */
export function temporaryFolder(): { readonly path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'blockbell-test-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}
