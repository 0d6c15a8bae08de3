import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));

function blockbell(...args: readonly string[]) {
  return spawnSync('npx', ['--no-install', 'blockbell', ...args], { cwd: root, encoding: 'utf8' });
}

describe('blockbell, as npm links it', () => {
  it('answers with its version', () => {
    const { status, stdout, stderr } = blockbell('--version');
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(stdout).toMatch(/^\d+\.\d+\.\d+\n$/);
  });

  it('hands its exit code to the shell', () => {
    const { status, stderr } = blockbell('derail');
    expect(status).toBe(2);
    expect(stderr).toContain("unknown command 'derail'");
  });

  it('says what to do when it is not built', () => {
    const scratch = mkdtempSync(join(tmpdir(), 'blockbell-unbuilt-'));
    mkdirSync(join(scratch, 'bin'));
    cpSync(join(root, 'apps/cli/package.json'), join(scratch, 'package.json'));
    cpSync(join(root, 'apps/cli/bin/blockbell.js'), join(scratch, 'bin/blockbell.js'));
    const { status, stderr } = spawnSync(process.execPath, [join(scratch, 'bin/blockbell.js')], {
      encoding: 'utf8',
    });
    rmSync(scratch, { recursive: true });
    expect(status).toBe(1);
    expect(stderr).toContain('npm run build');
  });
});
