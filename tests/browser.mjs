/** Finds a Chromium-like browser for the page tests, or installs Debian's where that is allowed. */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const PLACES = [
  process.env.TABWRIGHT_BROWSER,
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/usr/bin/microsoft-edge',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

/** Path of a browser, or null. */
export function findBrowser() {
  return PLACES.find((p) => p && existsSync(p)) ?? null;
}

/** As `findBrowser`, installing Debian's chromium first when none is there and this is root on a machine with apt-get. */
export function findOrInstallBrowser(say = console.log) {
  const found = findBrowser();
  if (found || process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get')) return found;
  say('no browser found: installing the chromium package for the page tests');
  const options = {
    stdio: ['ignore', 'ignore', 'inherit'],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  };
  try {
    execFileSync('apt-get', ['update', '-qq'], options);
    execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], options);
  } catch {
    say('the chromium package could not be installed');
  }
  return findBrowser();
}
