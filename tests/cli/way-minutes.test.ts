/** What the table of ways says of machine minutes, against the job really made each way. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'jsonc-parser';
import { describe, expect, it } from 'vitest';
import { compareJob, type WayScore } from '../../src/job.ts';
import type { HoldRequest, TabRequest } from '../../src/part/part.ts';
import { makeText, ROOT, readBesides, shippedPost } from '../helpers.ts';
import { FULL } from '../runs.ts';

const SAMPLES = join(ROOT, 'samples');

/** Eased once instead of to the end, a way's plan is at most a fifth too short; hardly ever is it longer. */
const TOO_LITTLE = 0.21;
const TOO_MUCH = 0.02;
/** Of a plan's own minutes, as the plan file rounds them. */
const ROUNDING = 0.005;

function textOf(sample: string): string {
  return readFileSync(join(SAMPLES, `${sample}.json`), 'utf8');
}

function waysOf(sample: string): readonly WayScore[] {
  const compared = compareJob({
    text: textOf(sample),
    file: 'job.json',
    read: readBesides(SAMPLES),
    post: shippedPost,
  });
  if (!compared.ok) throw new Error('not compared');
  return compared.value.scores;
}

/** null: refused. */
function minutesMade(text: string): number | null {
  const made = makeText(text, { folder: SAMPLES });
  return made.ok ? made.value.course.programs.reduce((sum, p) => sum + p.seconds, 0) / 60 : null;
}

/** The same job asking for another way. */
function asking(sample: string, wish: HoldRequest): string {
  return JSON.stringify({ ...parse(textOf(sample)), hold: inJob(wish) });
}

function inJob(wish: HoldRequest): object {
  switch (wish.by) {
    case 'tabs':
      return { by: 'tabs', tabs: tabsInJob(wish.tabs) };
    case 'screws': {
      const { by, through, thread, tabs } = wish;
      return { by, through, thread, ...(tabs ? { tabs: tabsInJob(tabs) } : {}) };
    }
    case 'stub':
      return { by: 'stub', at: [wish.at.x, wish.at.y], direction: wish.directionDeg, width: wish.width };
    default:
      return wish;
  }
}

function tabsInJob({ width, height, lightenTo, at }: TabRequest): object {
  return { width, height, ...(lightenTo === null ? {} : { lightenTo }), at: at!.map((p) => [p.x, p.y]) };
}

describe('machine minutes of the ways', () => {
  it.each([
    ['lifting-lever', 'tabs, thinned'],
    ['warning-lever', 'tabs'],
    ['frame-cock', 'screws and tabs'],
  ])(
    '%s: its own way as its plan says; others as they would be made, within what is stated',
    (sample, own) => {
      const ways = waysOf(sample);
      const plain = minutesMade(textOf(sample))!;
      const mine = ways.find((w) => w.name === own)!;
      expect(Math.abs(mine.machineMinutes! - plain)).toBeLessThan(ROUNDING);
      const others = ways.filter((w) => w !== mine && w.machineMinutes !== null);
      expect(others.length).toBeGreaterThanOrEqual(3);
      const looked = FULL ? others : others.filter((w) => w.by === (sample === 'lifting-lever' ? 'floor' : 'glue'));
      expect(looked.length).toBeGreaterThan(0);
      for (const way of looked) {
        const real = minutesMade(asking(sample, way.wish!));
        if (real === null) continue;
        const share = way.machineMinutes! / real - 1;
        expect(share, `${way.name}: ${way.machineMinutes} for ${real}`).toBeGreaterThan(-TOO_LITTLE);
        expect(share, `${way.name}: ${way.machineMinutes} for ${real}`).toBeLessThan(TOO_MUCH);
      }
    },
    120_000,
  );

  it('a way that make would refuse has none, and says why', () => {
    const screws = waysOf('lifting-lever').find((w) => w.name === 'screws')!;
    expect(screws.machineMinutes).toBeNull();
    expect(screws.reasons.join('\n')).toMatch(/make refuses it: a M2 screw/);
    expect(minutesMade(asking('lifting-lever', screws.wish!))).toBeNull();
  });

  it('a way that make would refuse is told first of all as one that cannot be used, after those that can', () => {
    const ways = waysOf('lifting-lever');
    const screws = ways.find((w) => w.name === 'screws')!;
    expect(screws.verdict).toMatch(/^cannot be used: a M2 screw/);
    expect(ways.findIndex((w) => !w.possible)).toBe(ways.filter((w) => w.possible).length);
    const made = makeText(textOf('lifting-lever'), { folder: SAMPLES });
    const beside = made.ok ? made.value.alternatives.find((w) => w.name === 'screws') : undefined;
    expect(beside?.verdict).toBe(screws.verdict);
  });
});
