import { chromium } from 'playwright-core';
import { findChromium } from './find-chromium.mjs';

/**
 * What Chromium goes without. Each window would load two pages for its address bar, which nobody sees: more work than the board
 * itself. The rest is what Playwright switches off, for Chromium heeds the last such list only.
 */
const WITHOUT = [
  'WebUIOmniboxPopup',
  'WebUIOmniboxAimPopup',
  'AimEnabled',
  'AvoidCorsURLLoaderRestartOnRedirect',
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'HttpsFirstBalancedModeAutoEnable',
  'HttpsUpgrades',
  'LensOverlay',
  'MediaRouter',
  'NetworkTimeServiceQuerying',
  'OptimizationHints',
  'PaintHolding',
  'PreconnectToSearch',
  'ThirdPartyStoragePartitioning',
];

const ARGUMENTS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  `--disable-features=${WITHOUT.join(',')}`,
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
