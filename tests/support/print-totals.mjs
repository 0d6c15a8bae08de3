// Prints the totals of a vitest JSON report as one line, and fails unless tests ran and all of them passed.
import { existsSync, readFileSync } from 'node:fs';
import { totals } from './totals.mjs';

const [path = ''] = process.argv.slice(2);
const report = existsSync(path) ? JSON.parse(readFileSync(path, 'utf8')) : { testResults: [] };
const { passed, failed } = totals(report);
console.log(`${passed} passed, ${failed} failed`);
process.exit(passed > 0 && failed === 0 ? 0 : 1);
