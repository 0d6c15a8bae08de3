import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { beforeAll, expect, test } from 'vitest';

// Only compiled code runs in threads of its own: measured in a process that runs what was built.
const SCRIPT = fileURLToPath(new URL('../support/share-at-work.mjs', import.meta.url));

interface Shares {
  readonly rehearsals: { readonly share: number; readonly texts: readonly string[] };
  readonly summary: { readonly share: number; readonly run: number };
}

/**
 * Work that is done where trains are run takes that thread nearly whole, and the engine waits as long; to send it away and hear of
 * it takes little, however busy the machine is.
 */
const LITTLE = 0.4;

let shares: Shares;
beforeAll(async () => {
  const { stdout } = await promisify(execFile)(process.execPath, [SCRIPT]);
  shares = JSON.parse(stdout) as Shares;
});

test('the report of rehearsals is worked out beside the thread that runs trains', () => {
  const { share, texts } = shares.rehearsals;
  expect(texts).toEqual(
    expect.arrayContaining(['report.json', 'report.html', 'second/pictures/track.svg']),
  );
  expect(share).toBeLessThan(LITTLE);
});

test('a session is summarised beside the thread that runs trains', () => {
  const { share, run } = shares.summary;
  expect(run).toBeGreaterThan(0);
  expect(share).toBeLessThan(LITTLE);
});
