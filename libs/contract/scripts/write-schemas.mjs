// Writes the JSON Schemas of the file formats to docs/schemas, from the built contract. Run after `tsc -b`.
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { format } from 'prettier';
import { jsonSchemas } from '../dist/files/json-schemas.js';

const folder = new URL('../../../docs/schemas/', import.meta.url);
mkdirSync(folder, { recursive: true });
for (const { fileName, text } of jsonSchemas()) {
  const place = new URL(fileName, folder);
  writeFileSync(place, await format(text, { parser: 'json', printWidth: 100 }));
  process.stdout.write(`wrote ${fileURLToPath(place)}\n`);
}
