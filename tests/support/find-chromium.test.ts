import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findChromium } from './find-chromium.mjs';

let folder: string;
let other: string;

function program(path: string): string {
  writeFileSync(path, '#!/bin/sh\n');
  chmodSync(path, 0o755);
  return path;
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'blockbell-browser-'));
  other = mkdtempSync(join(tmpdir(), 'blockbell-browser-'));
});
afterAll(() => [folder, other].forEach((path) => rmSync(path, { recursive: true })));

describe('the browser of the browser tests', () => {
  it('is none where none is on the path', () => {
    expect(findChromium({ PATH: folder })).toBeNull();
  });

  it('is the first found on the path, chromium before others', () => {
    program(join(folder, 'google-chrome'));
    const chromium = program(join(other, 'chromium'));
    expect(findChromium({ PATH: [folder, other].join(delimiter) })).toBe(chromium);
  });

  it('is the one named by CHROMIUM_PATH, when that is a program', () => {
    const mine = program(join(folder, 'mine'));
    expect(findChromium({ PATH: other, CHROMIUM_PATH: mine })).toBe(mine);
    expect(() => findChromium({ PATH: other, CHROMIUM_PATH: join(folder, 'gone') })).toThrow(
      'is no program',
    );
  });
});
