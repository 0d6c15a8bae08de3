import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { SessionReport } from '@blockbell/rehearsal';
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

  it('ends in silence when nobody reads on', () => {
    const line = 'npx --no-install blockbell trial --list | head -n 1';
    const { stdout, stderr } = spawnSync('sh', ['-c', line], { cwd: root, encoding: 'utf8' });
    expect(stdout).toMatch(/^[^\n]+\n$/);
    expect(stderr).toBe('');
  });

  it('checks the demo', () => {
    expect(blockbell('check')).toMatchObject({ status: 0, stdout: '' });
  });

  it('rehearses the demo to its end: every service run, no rule of safety broken, no part idle', () => {
    const { status, stdout, stderr } = blockbell('rehearse', '--json', '--quiet');
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    const { ended, services, violations, figures } = JSON.parse(stdout) as SessionReport;
    expect(ended).toBe(true);
    expect(services.notRun).toEqual([]);
    expect(services.run).toBeGreaterThanOrEqual(50);
    expect(violations).toEqual({ broken: [], excused: [] });
    expect(figures.turnouts.unused).toEqual([]);
    expect(figures.yardTracks.unused).toEqual([]);
    for (const count of [
      figures.meets,
      figures.waits.count,
      figures.refusedAsUnsafe,
      figures.identities.reported,
      figures.identities.inferred,
      figures.reversals,
      figures.throws,
    ]) {
      expect(count).toBeGreaterThan(0);
    }
  });

  it('rehearses many sessions to the same bytes whatever the number of workers', () => {
    const asked = ['rehearse', '--example', 'passing-loop', '--dispatching', 'booked', '--json'];
    const many = (workers: string) =>
      blockbell(...asked, '--quiet', '--sessions', '3', '--workers', workers);
    const [one, three] = [many('1'), many('3')];
    expect(one).toMatchObject({ status: 0, stderr: '' });
    expect(three.stdout).toBe(one.stdout);
    const { report } = JSON.parse(one.stdout) as { report: { sessions: number } };
    expect(report.sessions).toBe(3);
  });

  it('rehearses to the same bytes in two processes', () => {
    // The demo in other processes: tests/sessions/same-bytes.test.ts.
    const asked = ['rehearse', '--example', 'passing-loop', '--json', '--quiet', '--seed', '3'];
    const one = blockbell(...asked);
    const other = blockbell(...asked);
    expect(one.status).toBe(0);
    expect(one.stdout).toBe(other.stdout);
  });

  it('replays the demo to the byte', () => {
    const { status, stdout } = blockbell('replay');
    expect(status).toBe(0);
    expect(stdout).toContain('every effect the same');
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
