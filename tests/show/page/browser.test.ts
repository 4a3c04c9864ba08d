/** The page as a person opens it: from disk, in a browser, with no network. */
import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

import type { ViewData } from '../../../src/show/page/data/view-data.ts';
import {
  BROWSER,
  compared,
  countColour,
  goTo,
  launch,
  type Opened,
  openPage,
  ROOT,
  settled,
  WITHOUT,
} from './browse.ts';
import { leverView, longView, madeUpCourse } from './fixture.ts';

/** The flat colour of a gouge (Okabe-Ito vermillion) and of uncut stock (orange). */
const GOUGE = [213, 94, 0] as const;
const UNCUT = [230, 159, 0] as const;

if (BROWSER === null) {
  if (process.env['CI']) it('has a browser', () => expect.unreachable(WITHOUT));
  else console.log(WITHOUT);
}

/** Set by tests/bench/page.bench.ts: then as many frames are drawn as a measurement wants. */
const TIMED = process.env.BENCH !== undefined;

describe.skipIf(BROWSER === null)('the page in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser?.close());

  const close = (page: Page) => page.context().close();

  describe.sequential('of a spoiled program', () => {
    const opened = shared(
      () => browser,
      'lever-spoiled',
      () => withCourse({ offset: -0.4 }),
    );

    it('shows the gouge by colour, ring and words, in plan and free view, and not before it is cut', async () => {
      const { page, errors, asked } = await opened();
      await compared(page);
      expect(await countColour(page, GOUGE)).toBeGreaterThan(500);
      const rings = await page.locator('.gouge-mark').count();
      expect(rings).toBeGreaterThan(0);
      const listed = page.locator('#places button', { hasText: 'gouge' });
      expect(await listed.count()).toBe(rings);
      expect(await listed.first().textContent()).toMatch(
        /G1 gouge: [\d.]+ mm deep, [\d.]+ mm across, [\d.]+ mm², at X/,
      );
      await goTo(page, 0);
      expect(await countColour(page, GOUGE)).toBe(0);
      await page.click('#to-end');
      await page.keyboard.press('v');
      await settled(page);
      expect(await countColour(page, GOUGE)).toBeGreaterThan(100);
      expect([...errors, ...asked]).toEqual([]);
    });

    it('has nothing that axe-core objects to, in free view, in plan, with faults and curves; and axe sees a planted defect', async () => {
      const { page } = await opened();
      await page.evaluate(readFileSync(join(ROOT, 'node_modules/axe-core/axe.min.js'), 'utf8'));
      const violations = () =>
        page.evaluate(async () => {
          const { axe } = globalThis as unknown as { axe: { run(): Promise<{ violations: { id: string }[] }> } };
          return (await axe.run()).violations.map((v) => v.id);
        });
      await page.evaluate(() => document.querySelector('details')!.setAttribute('open', ''));
      expect(await violations()).toEqual([]);
      await page.keyboard.press('v');
      await page.click('#worst-place');
      await settled(page);
      expect(await violations()).toEqual([]);
      await page.evaluate(() => document.querySelector('label[for="rate"]')!.remove());
      expect(await violations()).toContain('select-name');
    });

    it('prints as a sheet with drawing, findings and cautions, without its controls', async () => {
      const { page } = await opened();
      await page.emulateMedia({ media: 'print' });
      // Every layer of the drawing shrinks alike: the same place of the window lies at the same place on paper.
      const shares = await page.evaluate(() => {
        const canvas = document.getElementById('plan-field') as HTMLCanvasElement;
        const boxes = ['plan-drawing', 'over'].map((id) =>
          document.getElementById(id)!.getAttribute('viewBox')!.split(' ').map(Number),
        );
        return [canvas.width / canvas.height, ...boxes.map((b) => b[2]! / b[3]!)];
      });
      for (const s of shares.slice(1)) expect(s).toBeCloseTo(shares[0]!, 1);
      const seen = (id: string) => page.locator(id).isVisible();
      expect([await seen('#stage'), await seen('#h-findings'), await seen('#h-before-cutting')]).toEqual([
        true,
        true,
        true,
      ]);
      expect([await seen('#run'), await seen('#listing'), await seen('#measure-pick')]).toEqual([false, false, false]);
      expect((await page.pdf()).length).toBeGreaterThan(10_000);
      await close(page);
    });
  });

  describe.sequential('of a good program', () => {
    const opened = shared(
      () => browser,
      'lever-good',
      () => withCourse({}),
    );
    const block = async (page: Page) =>
      Number(await page.locator('#listing [aria-selected="true"] .line-number').textContent());

    it('shows no gouge: neither colour, ring nor words', async () => {
      const { page, errors, asked } = await opened();
      await compared(page);
      expect(await countColour(page, GOUGE)).toBe(0);
      expect(await page.locator('.gouge-mark').count()).toBe(0);
      expect(await page.locator('#places button').count()).toBe(0);
      await page.keyboard.press('v');
      await settled(page);
      expect(await countColour(page, GOUGE)).toBe(0);
      await page.keyboard.press('v');
      await settled(page);
      expect([...errors, ...asked]).toEqual([]);
    });

    it('goes by keys alone: blocks, ends, text and time together', async () => {
      const { page } = await opened();
      const atBlock = (n: number) =>
        page.waitForFunction(
          (want) =>
            document.querySelector('#listing [aria-selected="true"] .line-number')?.textContent === String(want),
          n,
        );
      await page.focus('#time');
      await page.keyboard.press('Home');
      await settled(page);
      const text = readProgram(await page.locator('#view-data').textContent());
      await page.keyboard.press('n');
      await page.keyboard.press('n');
      await settled(page);
      const second = await block(page);
      expect(second).toBeGreaterThan(1);
      await page.keyboard.press('b');
      await settled(page);
      expect(await block(page)).toBeLessThan(second);
      await page.keyboard.press('End');
      await settled(page);
      await atBlock(text.lastMove);
      await page.focus('#listing');
      await page.keyboard.press('ArrowUp');
      await settled(page);
      expect(await block(page)).toBeLessThan(text.lastMove);
      const shown = await page.locator('#moment-facts').textContent();
      expect(shown).toContain(`Block${await block(page)} of`);
    });

    it('leads from a line of text to its time, shows it in full, and goes through the moves of a cycle', async () => {
      const { page } = await opened();
      await page.focus('#time');
      await page.keyboard.press('Home');
      await settled(page);
      await page.locator('#listing').evaluate((e) => e.scrollTo(0, 200));
      await page.locator('#listing [role="option"]', { hasText: 'G83' }).first().click();
      await settled(page);
      expect(await page.locator('#listing [aria-selected="true"]').textContent()).toContain('G83');
      expect(await page.locator('#line-in-full').textContent()).toContain('G83');
      expect(await page.locator('#moment-facts').textContent()).toContain('drill 5 mm');
      const cycle = await block(page);
      const place = async () => (await page.locator('#moment-facts').textContent())!;
      const count = Number(/(\d+) of (\d+) in this block/.exec(await place())![2]);
      expect(count).toBeGreaterThan(2);
      await page.keyboard.press('j');
      await settled(page);
      expect(await block(page)).toBe(cycle);
      expect(await place()).toContain(`${count - 1} of ${count} in this block`);
      await page.keyboard.press('b');
      await settled(page);
      expect(await block(page)).toBeLessThan(cycle);
    });

    it('draws the curves on a scale with their limits named, and says at a dip what holds the part', async () => {
      const { page } = await opened();
      const margin = await page.locator('#curve-margin').textContent();
      const movement = await page.locator('#curve-movement').textContent();
      // Scale from 0, limit; the minutes stand under the lower curve for both.
      expect(margin).toMatch(/^024≥6least 2$/);
      expect(movement).toMatch(/^0.*0\.02.*1 min.*most 0\.02$/);
      expect(await page.locator('#margin-words').textContent()).toContain(`block ${WORST}.`);
      await page.click('#worst-place');
      await settled(page);
      const said = () => page.locator('#axis-words').textContent();
      await page.waitForFunction(() =>
        /joined|stand all round|whole stock/.test(document.getElementById('axis-words')!.textContent!),
      );
      expect(await said()).toContain(`block ${WORST} at X`);
      expect(await said()).toMatch(/times the load \(wanted 2\), the edge moves [\d.]+ mm \(wanted 0\.02 at most\)/);
      expect(await page.locator('.spot').count()).toBe(1);
      // Ring and words belong to that moment.
      await page.click('#to-start');
      await settled(page);
      expect(await page.locator('.spot').count()).toBe(0);
      expect(await said()).toBe('');
      // A click on the lower curve near its peak takes the peak.
      const diamond = page.locator('#curve-movement path').last();
      const box = (await diamond.boundingBox())!;
      await page.mouse.click(box.x + box.width / 2 + 3, box.y + box.height / 2);
      await settled(page);
      expect(await said()).toMatch(/^Chosen on the curve: block 3\d/);
    });

    it('hides and shows the holder', async () => {
      const { page } = await opened();
      await page.keyboard.press('h');
      expect(await page.locator('#shown-holder').isChecked()).toBe(false);
      await page.keyboard.press('h');
      expect(await page.locator('#shown-holder').isChecked()).toBe(true);
    });

    it('measures between two points, typed or picked, taking the centre of a hole exactly', async () => {
      const { page } = await opened();
      for (const [id, v] of [
        ['from-x', '10'],
        ['from-y', '5'],
        ['to-x', '13'],
        ['to-y', '9'],
      ] as const)
        await page.fill(`#${id}`, v);
      await page.locator('#to-y').blur();
      expect(await page.locator('#measure-result').textContent()).toContain('5 mm apart; along X 3, along Y 4');
      await page.click('#measure-pick');
      const box = (await page.locator('#stage').boundingBox())!;
      const scale = Math.min((box.width - 2 - 68) / 75, (box.height - 2 - 68) / 30);
      const at = (x: number, y: number) =>
        [box.x + box.width / 2 + (x - 37.5) * scale, box.y + box.height / 2 - (y - 15) * scale] as const;
      const [x, y] = at(22, 15);
      await page.mouse.click(x + 4, y + 3);
      await page.mouse.click(...at(40, 28));
      expect(await page.inputValue('#from-x')).toBe('22');
      expect(await page.inputValue('#from-y')).toBe('15');
      await page.waitForSelector('.measure-line', { state: 'attached' });
      expect(await page.locator('#measure-result').textContent()).toMatch(/mm apart; along X (17\.9|18)/);
    });

    it.each([
      [1280, 800],
      [1440, 900],
      [1000, 1240],
    ])('shows picture, time axis and curves in the first screen of %d by %d', async (width, height) => {
      const { page } = await opened();
      await page.evaluate(() => scrollTo(0, 0));
      await page.setViewportSize({ width, height });
      const reach = (id: string) =>
        page.evaluate((of) => {
          const { top, bottom } = document.getElementById(of)!.getBoundingClientRect();
          return [Math.round(top), Math.round(bottom)] as const;
        }, id);
      const [stage, time, margin, movement] = [
        await reach('stage'),
        await reach('time'),
        await reach('curve-margin'),
        await reach('curve-movement'),
      ];
      expect(stage[1] - stage[0]).toBeGreaterThan(280);
      // In this order, one below the other, none beyond the window.
      const levels = [0, ...stage, ...time, ...margin, ...movement, height];
      expect(levels).toEqual([...levels].sort((a, b) => a - b));
    });

    it('can be read at 200 %: nothing wider than the window', async () => {
      const { page } = await opened();
      await page.setViewportSize({ width: 640, height: 450 });
      await page.evaluate(() => document.querySelector('details')!.setAttribute('open', ''));
      const over = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(over).toBeLessThanOrEqual(0);
      await close(page);
    });
  });

  it('shows uncut stock by colour, square and words, and leads to it', async () => {
    const { page } = await openPage(browser, leverView({ drillDepth: -2 }), 'lever-shallow');
    await settled(page);
    await compared(page);
    expect(await countColour(page, UNCUT)).toBeGreaterThan(500);
    expect(await page.locator('.uncut-mark').count()).toBe(1);
    await goTo(page, 0.2);
    expect(await countColour(page, UNCUT)).toBe(0);
    await page.locator('#places button').first().click();
    await settled(page);
    expect(await page.locator('.spot').count()).toBe(1);
    // The ring and the cutter hide some of it.
    expect(await countColour(page, UNCUT)).toBeGreaterThan(200);
    await close(page);
  });

  it('says plainly that there are no curves without a course, and no comparison without a job', async () => {
    const { page, errors } = await openPage(browser, leverView({}, null, null), 'lever-alone');
    await compared(page);
    expect(await page.locator('#no-course').isVisible()).toBe(true);
    expect(await page.locator('#places-intro').textContent()).toContain('No job was given');
    expect(errors).toEqual([]);
    await close(page);
  });

  it('moves through a long program (20,000 moves, timed by the bench)', async () => {
    const { page, errors } = await openPage(browser, longView(TIMED ? 20_000 : 4_000, true), 'long-20k');
    await settled(page);
    await page.waitForFunction(() => document.getElementById('field-progress')!.textContent === '');
    for (const view of ['plan', 'free']) {
      await page.click(`label[for="view-${view}"]`);
      await goTo(page, 0.5);
      // Other work may share the processor: each round is judged by how much slower than undisturbed its own loop ran.
      const rounds: { median: number; longest: number; slowdown: number }[] = [];
      for (let k = 0; k < (TIMED ? 3 : 1); k++) {
        const slowdown = TIMED ? await page.evaluate(slowdownNow) : 1;
        const all = [0.9, 0.11, 0.52, 0.5, 0.49, 0.97, 0.02, 0.33, 0.66, 0.34, 0.8];
        const times = await page.evaluate(frames, TIMED ? all : all.slice(0, 3));
        times.sort((a, b) => a - b);
        rounds.push({ median: times[times.length >> 1]!, longest: times.at(-1)!, slowdown });
      }
      const best = rounds.sort((a, b) => a.median / a.slowdown - b.median / b.slowdown)[0]!;
      const figure = (v: number) => v.toFixed(0);
      console.log(
        `scrub of 20,000 moves, ${view} view: median ${figure(best.median)} ms, longest ${figure(best.longest)} ms a frame${TIMED ? `, on a machine slowed ${best.slowdown.toFixed(1)} times by other work` : ''}`,
      );
      expect(best.median).toBeGreaterThan(0);
    }
    expect(errors).toEqual([]);
    await close(page);
  });

  // The bench opens a million; a tenth of it shows that a long path opens.
  it('opens a long path from a file under 1.5 MB (timed by the bench)', async () => {
    const count = TIMED ? 1_000_000 : 100_000;
    const view = longView(count, false);
    const opened = await openPage(browser, view, 'long-1m');
    await opened.page.waitForFunction(() => document.getElementById('stage')!.dataset['drawn'] !== undefined);
    const { loaded } = await opened.page.evaluate(() => ({ loaded: performance.now() }));
    const size = statSync(opened.file).size;
    console.log(
      `${count / 1e6} million moves: ${(size / 1e6).toFixed(2)} MB, drawn ${(loaded / 1000).toFixed(2)} s after opening`,
    );
    expect(size).toBeLessThan(1.5e6);
    expect(loaded).toBeGreaterThan(0);
    expect(opened.errors).toEqual([]);
    await close(opened.page);
  });
});

describe.skipIf(BROWSER === null)('the page without WebGL', () => {
  it('shows the plan, says so, and still shows a gouge', async () => {
    const browser = await launch(['--disable-3d-apis']);
    try {
      const { page } = await openPage(browser, leverView({ offset: -0.4 }), 'lever-no-webgl');
      await settled(page);
      await compared(page);
      expect(await page.locator('#view-words').textContent()).toContain('no WebGL');
      expect(await page.locator('#view-free').isDisabled()).toBe(true);
      expect(await countColour(page, GOUGE)).toBeGreaterThan(500);
    } finally {
      await browser.close();
    }
  });
});

/** Block of the made-up course at which the holding is worst. */
const WORST = 33;

function withCourse(knobs: Parameters<typeof leverView>[0]): ViewData {
  return leverView(knobs, madeUpCourse(leverView(knobs), WORST));
}

/** One page for several tests: opening it is most of their time. */
function shared(browser: () => Browser, name: string, data: () => ViewData): () => Promise<Opened> {
  let opened: Promise<Opened> | null = null;
  return async () => {
    opened ??= openPage(browser(), data(), name);
    const it = await opened;
    await settled(it.page);
    return it;
  };
}

function readProgram(json: string | null): { readonly lastMove: number } {
  const data = JSON.parse(json!) as { programs: { lines: number }[] };
  // The lever's program ends: G0 Z20, M5, M2, %.
  return { lastMove: data.programs[0]!.lines - 3 };
}

/** In the page: from moving the slider to the picture that shows it, the graphics waited for, in milliseconds. */
async function frames(fractions: readonly number[]): Promise<number[]> {
  const slider = document.getElementById('time') as HTMLInputElement;
  const stage = document.getElementById('stage')!;
  const gl = (document.getElementById('free') as HTMLCanvasElement).getContext('webgl2');
  const times: number[] = [];
  for (const f of fractions) {
    const begun = performance.now();
    slider.value = String(f * Number(slider.max));
    slider.dispatchEvent(new Event('input'));
    while (stage.dataset['wanted'] !== stage.dataset['drawn']) await new Promise((done) => requestAnimationFrame(done));
    gl?.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
    times.push(performance.now() - begun);
  }
  return times;
}

/** In the page: mean time of short equal slices of work over the least, which is that of a slice nobody interrupted. */
function slowdownNow(): number {
  const slices: number[] = [];
  let sum = 0;
  for (let k = 0; k < 400; k++) {
    const begun = performance.now();
    for (let i = 0; i < 200_000; i++) sum += Math.sqrt(i);
    slices.push(performance.now() - begun);
  }
  // The first slices run before the loop is compiled.
  const warm = slices.slice(50);
  const least = warm.slice().sort((a, b) => a - b)[10]!;
  return sum > 0 ? Math.max(1, warm.reduce((a, b) => a + b, 0) / warm.length / least) : 1;
}
