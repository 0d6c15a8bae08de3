import { mkdirSync, writeFileSync } from 'node:fs';
import { buildExamples } from './all-examples.js';
import { readableJson } from './example-files.js';
import { exampleRules } from './rules.js';
import { EXAMPLE_FOLDERS, fileUrl, type ExampleName } from './example-folders.js';

/** Writes the examples' files; run after a build: `npm run write --workspace @blockbell/examples`. */
const examples = buildExamples();
for (const name of Object.keys(examples) as ExampleName[]) {
  const folder = EXAMPLE_FOLDERS[name];
  mkdirSync(new URL(`../${folder}/`, import.meta.url), { recursive: true });
  for (const file of ['layout', 'stock', 'timetable'] as const) {
    writeFileSync(fileUrl(folder, file), readableJson(examples[name][file]));
  }
  const rules = exampleRules(examples[name].layout.id);
  if (rules !== null) writeFileSync(fileUrl(folder, 'staging-rules'), readableJson(rules));
}
