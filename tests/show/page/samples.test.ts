/** Every sample, made and opened from disk: no request, no error, a picture, and no gouge where the check found none. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { viewData } from '../../../src/show/page/data/make-view-data.ts';
import { edgeJob } from '../../edge-job.ts';
import { mustMake, mustMakeSample } from '../../helpers.ts';
import { BROWSER, compared, launch, openPage, ROOT, settled } from './browse.ts';
import { checkReader } from './fixture.ts';

const SAMPLES = readdirSync(join(ROOT, 'samples')).filter((f) => f.endsWith('.json'));

it('has samples to look at', () => expect(SAMPLES.length).toBeGreaterThan(3));

describe.skipIf(BROWSER === null)('the page of a sample', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch();
  });
  afterAll(() => browser?.close());

  it.each(SAMPLES)('%s opens from disk without a request or an error', async (file) => {
    const { job, plan, holding, programs, report } = mustMakeSample(file.replace('.json', ''));
    const data = viewData({ name: job.name, job, plan, holding, programs, report, course: null, read: checkReader });
    const { page, asked, errors } = await openPage(browser, data, `sample-${file.replace('.json', '')}`);
    await settled(page);
    await compared(page);
    // The free view draws all alike: one sample is enough to see that it does.
    if (file === SAMPLES[0]) {
      await page.keyboard.press('v');
      await settled(page);
    }
    expect(asked).toEqual([]);
    expect(errors).toEqual([]);
    const gouges = await page.locator('#places button', { hasText: 'gouge' }).count();
    if (!report.faults.some((f) => f.code.startsWith('gouge'))) expect(gouges).toBe(0);
    const words = await page.locator('#places-intro').textContent();
    console.log(`${file}: ${report.faults.length} faults; ${words}`);
    await page.context().close();
  });

  it('a part on edge is a set-up of its own: another stock, the text of its program, no comparison with the plate', async () => {
    const { job, plan, holding, programs, report } = mustMake(edgeJob());
    const data = viewData({ name: job.name, job, plan, holding, programs, report, course: null, read: checkReader });
    expect(data.setups.map((s) => s.name)).toEqual(['upper face', 'edge hole 1', 'edge hole 2']);
    expect(data.setups[1]!.stock!.max[1] - data.setups[1]!.stock!.min[1]).toBeCloseTo(job.part.thickness, 4);
    const { page, asked, errors } = await openPage(browser, data, 'edge-arm');
    await settled(page);
    await page.selectOption('#program', { label: 'edge-arm-2.ngc (edge hole 1)' });
    await page.click('#to-end');
    await settled(page);
    expect(await page.locator('#listing').textContent()).toContain('tap by hand M2, edge hole 1');
    expect(await page.locator('#places-intro').textContent()).toContain('first set-up only');
    expect(await page.locator('main').textContent()).toContain('The part stands on edge between jaws');
    expect([...errors, ...asked]).toEqual([]);
    await page.context().close();
  });
});
