/**
 * Counts the tests of a vitest JSON report. A file that failed without a failed test (it did not load, or a
 * hook failed) counts as one failure, so that nothing fails unseen.
 *
 * @param {{ testResults: readonly { status: string, assertionResults: readonly { status: string }[] }[] }} report
 */
export function totals(report) {
  let passed = 0;
  let failed = 0;
  for (const file of report.testResults) {
    const count = (status) =>
      file.assertionResults.filter((result) => result.status === status).length;
    passed += count('passed');
    failed += count('failed');
    if (file.status === 'failed' && count('failed') === 0) failed += 1;
  }
  return { passed, failed };
}
