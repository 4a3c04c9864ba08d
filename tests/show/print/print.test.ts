/**
 * The sheet printed to PDF by headless Chromium: what is on which page, and that nothing is cut off. Skipped, with a line
 * that says so, where there is no browser.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { setupSheet } from '../../../src/show/sheet/sheet.ts';
// @ts-expect-error: a plain script shared with the test runner, without types
import { findBrowser } from '../../browser.mjs';
import { quickInput, SAMPLES, sampleText } from '../sheet/quick.ts';

const BROWSER: string | null = findBrowser();
if (BROWSER === null) console.log('no browser found: the printed sheet is not tested (set TABWRIGHT_BROWSER to one)');

const PDFTOTEXT = spawnSync('pdftotext', ['-v']).error === undefined;
if (!PDFTOTEXT) console.log('no pdftotext found: the text of the printed pages is not looked at');

/** A4 in points of 1/72 inch, as Chromium rounds it. */
const A4 = [594.96, 841.92] as const;
const MM = 96 / 25.4;
/** Width between the side margins. */
const TEXT_WIDTH = 186 * MM;

describe.skipIf(BROWSER === null)('printed', () => {
  let browser: Browser;
  let folder: string;

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'sheet-'));
    browser = await chromium.launch({ executablePath: BROWSER!, args: ['--no-sandbox'] });
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  async function open(name: string, html: string): Promise<{ page: Page; requests: string[]; errors: string[] }> {
    const file = join(folder, `${name}.html`);
    writeFileSync(file, html);
    const page = await browser.newPage({ viewport: { width: Math.round(TEXT_WIDTH), height: 1000 } });
    const requests: string[] = [];
    const errors: string[] = [];
    page.on('request', (r) => requests.push(r.url()));
    page.on('console', (m) => {
      if (m.type() === 'error') errors.push(m.text());
    });
    page.on('pageerror', (e) => errors.push(e.message));
    await page.goto(pathToFileURL(file).href);
    await page.emulateMedia({ media: 'print' });
    return { page, requests, errors };
  }

  describe.each(SAMPLES)('%s', (name) => {
    const input = quickInput(sampleText(name));
    const html = setupSheet(input);

    it('opens from disk alone; nothing is wider than the paper, no lettering shrank or left its drawing', async () => {
      const { page, requests, errors } = await open(name, html);
      expect(requests).toHaveLength(1);
      expect(errors).toEqual([]);
      const { seen, wide, scales, outside } = await page.evaluate(layoutFaults, TEXT_WIDTH);
      await page.close();
      expect(seen).toBeGreaterThan(200);
      expect(wide).toEqual([]);
      expect(outside).toEqual([]);
      expect(scales.length).toBeGreaterThan(0);
      for (const s of scales) expect(s).toBeCloseTo(MM, 2);
    });

    it('prints on A4, the first page whole', async () => {
      const { page } = await open(name, html);
      expect(await page.evaluate(firstPage)).toEqual(FIRST_PAGE);
      const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
      await page.close();
      const boxes = [...pdf.toString('latin1').matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
      expect(boxes.length).toBeGreaterThanOrEqual(4);
      expect(boxes.length).toBeLessThanOrEqual(16);
      for (const b of boxes) expect([Number(b[1]), Number(b[2])]).toEqual(A4.map((v) => expect.closeTo(v, 1)));
    });

    it.skipIf(!PDFTOTEXT)('has the figures to turn by hand on pages of their own', async () => {
      const { page } = await open(name, html);
      const file = join(folder, `${name}.pdf`);
      await page.pdf({ path: file, preferCSSPageSize: true, printBackground: true });
      await page.close();
      const pages = textOfPages(file);
      // The title block ends the first page: with it there, all before it is there too.
      for (const words of ['Part', 'Material', 'Stock', 'Zero Z', 'Scale', 'set up by', 'date', 'This sheet']) {
        expect(pages[0]).toContain(words);
      }
      expect(pages.slice(1).join(' ')).not.toContain('set up by');
      const hand = pages.findIndex((p) => p.trimStart().startsWith('By hand'));
      expect(hand).toBeGreaterThan(1);
      for (const words of [
        'Operations in order',
        'At each stop',
        'After a power failure',
        'Inspection',
        'Cautions',
        'Defaults taken',
      ]) {
        expect(pages.slice(1, hand).join(' ')).toContain(words);
      }
      expect(
        pages
          .at(-1)!
          .replace(/page \d+ of \d+/, '')
          .trim().length,
      ).toBeGreaterThan(60);
    });
  });

  it('keeps the first page whole under faults and long cautions', async () => {
    const input = quickInput(sampleText('rack-arm'));
    const text =
      'a finding that takes rather more words than fit on one line of the sheet, so that it is wrapped to two';
    const problem = { code: 'x', place: {}, found: text, wanted: 'less of it', remedy: '', program: 0, block: 7 };
    const faults = Array.from({ length: 5 }, () => ({ ...problem, severity: 'fault' as const }));
    const cautions = faults.map((f) => ({ ...f, severity: 'caution' as const }));
    const { page } = await open('crowded', setupSheet({ ...input, report: { ...input.report, faults, cautions } }));
    expect(await page.evaluate(firstPage)).toEqual(FIRST_PAGE);
    expect(await page.locator('.first').textContent()).toContain('NOT RELEASED: the check found 5 faults');
    await page.close();
  });
});

/** Paper between the margins, 297 less 10 and 13 mm: what is higher goes on to the next page. */
const FIRST_PAGE = { height: expect.closeTo(271 * MM, -1), last: 'date' };

/** Runs in the page: how high the first page is, and the last field of its title block, which ends it. */
function firstPage(): { height: number; last: string } {
  const first = document.querySelector('.first')!;
  return {
    height: first.getBoundingClientRect().height,
    last: [...first.querySelectorAll('small')].at(-1)!.textContent!,
  };
}

/** Runs in the page. */
function layoutFaults(width: number): { seen: number; wide: string[]; scales: number[]; outside: string[] } {
  const all = [...document.querySelectorAll('main *')];
  const out = all.filter((e) => e.getBoundingClientRect().right > width + 1 || e.getBoundingClientRect().left < -1);
  const drawings = [...document.querySelectorAll('svg')];
  const outside = drawings.flatMap((svg) => {
    const frame = svg.getBoundingClientRect();
    return [...svg.querySelectorAll('text')].flatMap((t) => {
      const b = t.getBoundingClientRect();
      const across = b.left >= frame.left - 1 && b.right <= frame.right + 1;
      return across && b.top >= frame.top - 2 && b.bottom <= frame.bottom + 1 ? [] : [t.textContent ?? ''];
    });
  });
  return {
    seen: all.length,
    wide: out.map((e) => `${e.tagName} ${e.textContent?.slice(0, 40)}`),
    // Pixels of screen for each millimetre that the drawing was made for.
    scales: drawings.map((s) => s.getBoundingClientRect().width / Number.parseFloat(s.getAttribute('width')!)),
    outside,
  };
}

/** Text of each page by poppler's pdftotext. */
function textOfPages(file: string): string[] {
  const text = execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
  return text.split('\f').slice(0, -1);
}
