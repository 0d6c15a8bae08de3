// Writes the description of the API to docs/openapi.json, from the built server. Run after `tsc -b`.
import 'reflect-metadata';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { format } from 'prettier';
import { describeApi } from '../dist/api/openapi.js';
import { readSettings } from '../dist/config/settings.js';
import { createServer } from '../dist/create-server.js';

const place = fileURLToPath(new URL('../../../docs/openapi.json', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'blockbell-openapi-'));
try {
  const app = await createServer(readSettings({ DATA_DIR: folder }));
  const text = JSON.stringify(describeApi(app));
  await app.close();
  writeFileSync(place, await format(text, { parser: 'json', printWidth: 100 }));
  process.stdout.write(`wrote ${place}\n`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
