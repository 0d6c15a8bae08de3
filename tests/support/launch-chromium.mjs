import { chromium } from 'playwright-core';
import { findChromium } from './find-chromium.mjs';

const ARGUMENTS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
];

/**
 * This machine's Chromium, without a window.
 * @param {import('playwright-core').LaunchOptions} options
 */
export function launchChromium(options = {}) {
  const executablePath = findChromium();
  if (!executablePath) throw new Error('there is no Chromium; npm test finds or installs one');
  return chromium.launch({ executablePath, args: ARGUMENTS, ...options });
}
