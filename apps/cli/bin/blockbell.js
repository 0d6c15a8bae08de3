#!/usr/bin/env node
// npm links this file when packages are installed, before anything is built; so it stands on its own.
import { existsSync } from 'node:fs';

const main = new URL('../dist/main.js', import.meta.url);
if (existsSync(main)) {
  await import(main.href);
} else {
  console.error('blockbell: not built yet. Run “npm ci” and then “npm run build” in its folder.');
  process.exitCode = 1;
}
