/** A headless browser with software graphics, and pages opened from disk with everything they try to fetch written down. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import { bundlePage } from '../../../src/show/page/bundle.mjs';
import type { ViewData } from '../../../src/show/page/data/view-data.ts';
import { type PageBundle, viewPage } from '../../../src/show/page/html.ts';
// @ts-expect-error: a plain script shared with the test runner, without types
import { findBrowser } from '../../browser.mjs';

export const BROWSER: string | null = findBrowser();
export const ROOT = join(import.meta.dirname, '../../..');
const OUTPUT = join(ROOT, 'tests/.output/page');

/** Said once; with CI set the run fails, for there a browser is expected. */
export const WITHOUT = 'no browser found (set TABWRIGHT_BROWSER): the tests of the page in a browser are left out';

/** Graphics in software. The page's own lettering and lines are drawn without them, in two thirds of the processor's time. */
const GRAPHICS = [
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
  '--disable-gpu-rasterization',
];

export function launch(more: readonly string[] = []): Promise<Browser> {
  return chromium.launch({
    executablePath: BROWSER!,
    args: ['--no-sandbox', ...GRAPHICS, ...more],
  });
}

let bundle: Promise<PageBundle> | null = null;

export interface Opened {
  readonly page: Page;
  readonly file: string;
  /** Everything asked for but the page itself and its own blobs. */
  readonly asked: readonly string[];
  readonly errors: readonly string[];
}

export async function writePage(data: ViewData, name: string): Promise<string> {
  bundle ??= bundlePage(ROOT);
  const built: PageBundle = await bundle;
  mkdirSync(OUTPUT, { recursive: true });
  const file = join(OUTPUT, `${name}.html`);
  writeFileSync(file, viewPage(data, built));
  return file;
}

export async function openPage(browser: Browser, data: ViewData, name: string): Promise<Opened> {
  return openFile(browser, await writePage(data, name));
}

export async function openFile(browser: Browser, file: string): Promise<Opened> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, offline: true });
  const page = await context.newPage();
  const asked: string[] = [];
  const errors: string[] = [];
  const url = pathToFileURL(file).href;
  page.on('request', (r) => {
    if (r.url() !== url && !r.url().startsWith('blob:')) asked.push(r.url());
  });
  page.on('pageerror', (e) => errors.push(e.message));
  page.on('console', (m) => {
    if (m.type() === 'error' || m.type() === 'warning') errors.push(m.text());
  });
  await page.goto(url, { waitUntil: 'commit' });
  await page.waitForSelector('html[data-ready]', { state: 'attached', timeout: 20_000 });
  return { page, file, asked, errors };
}

/** Until the picture shows the moment asked for. */
export function settled(page: Page): Promise<unknown> {
  return page.waitForFunction(
    () => {
      const s = document.getElementById('stage')!.dataset;
      return s['wanted'] !== undefined && s['wanted'] === s['drawn'];
    },
    undefined,
    { timeout: 20_000 },
  );
}

/** Until the field has been run through and compared. */
export function compared(page: Page): Promise<unknown> {
  return page.waitForFunction(
    () => !/still/.test(document.getElementById('places-intro')!.textContent ?? ''),
    undefined,
    {
      timeout: 30_000,
    },
  );
}

/** The slider at a fraction of the program. */
export async function goTo(page: Page, fraction: number): Promise<void> {
  await page.evaluate((f) => {
    const slider = document.getElementById('time') as HTMLInputElement;
    slider.value = String(f * Number(slider.max));
    slider.dispatchEvent(new Event('input'));
  }, fraction);
  await settled(page);
}

/** Pixels of the drawing that are near a colour, counted on a picture of it. */
export async function countColour(page: Page, rgb: readonly [number, number, number]): Promise<number> {
  const png = (await page.locator('#stage').screenshot()).toString('base64');
  return page.evaluate(
    async ([data, [r, g, b]]) => {
      const image = await createImageBitmap(new Blob([Uint8Array.from(atob(data), (c) => c.charCodeAt(0))]));
      const canvas = new OffscreenCanvas(image.width, image.height);
      const context = canvas.getContext('2d')!;
      context.drawImage(image, 0, 0);
      const pixels = context.getImageData(0, 0, image.width, image.height).data;
      let count = 0;
      for (let i = 0; i < pixels.length; i += 4)
        if (Math.abs(pixels[i]! - r) + Math.abs(pixels[i + 1]! - g) + Math.abs(pixels[i + 2]! - b) < 12) count++;
      return count;
    },
    [png, rgb] as const,
  );
}
