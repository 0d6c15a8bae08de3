// Prints which tests of a vitest JSON report passed only when tried again, and as the last line its totals. Fails unless
// tests ran and all of them passed.
import { existsSync, readFileSync } from 'node:fs';
import { secondTries, totals } from './totals.mjs';

const [path = ''] = process.argv.slice(2);
const report = existsSync(path) ? JSON.parse(readFileSync(path, 'utf8')) : { testResults: [] };
for (const first of secondTries(report)) console.log(`Passed only at the second try: ${first}`);
const { passed, failed } = totals(report);
console.log(`${passed} passed, ${failed} failed`);
process.exit(passed > 0 && failed === 0 ? 0 : 1);
