import { describe, expect, it } from 'vitest';
import { runRecorded } from './testing/run-recorded.js';

describe('the command line', () => {
  it('prints its version', async () => {
    const { exit, out } = await runRecorded('--version');
    expect({ exit, out }).toEqual({ exit: 0, out: expect.stringMatching(/^\d+\.\d+\.\d+$/) });
  });

  it.each([['help'], ['--help']])('%s lists the commands and the exit codes', async (...args) => {
    const { exit, out } = await runRecorded(...args);
    expect(exit).toBe(0);
    for (const word of ['check', 'Exit codes']) expect(out).toContain(word);
  });

  it.each([
    ['nothing asked for', []],
    ['an unknown command', ['derail']],
    ['an unknown option', ['check', '--sideways']],
    ['a file that is not there', ['check', '/nowhere/layout.json']],
  ])('refuses %s with exit code 2 and a hint', async (_, args) => {
    const { exit, out, err } = await runRecorded(...args);
    expect({ exit, out }).toEqual({ exit: 2, out: '' });
    expect(err).not.toBe('');
    expect(err).not.toContain('    at ');
  });
});
