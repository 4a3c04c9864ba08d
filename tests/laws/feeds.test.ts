/**
 * Every feed that a program writes, ten times as high: refused, or shown harmless. Harmless is what stays within the spread of the handbook's
 * feed a tooth (an eased feed may be a tenth of that) and within what the part hangs on: the course's margin, less the growth of the force,
 * is still over 1. On a machine that could go so fast.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../src/check/check.ts';
import type { Made } from '../../src/job.ts';
import { findMaterial } from '../../src/trade/materials/materials.ts';
import { toothFeedStart } from '../../src/trade/milling-rules.ts';
import { makeText, ROOT } from '../helpers.ts';
import { FULL, SEED } from '../runs.ts';
import { courseOf, lengthOf, type Move } from '../spoiled/course.ts';
import { randomJob } from './random-job.ts';
import { randomLever } from './random-lever.ts';

/** Words of one value in one operation are raised together: one slip of the hand in a list of feeds. */
interface Group {
  readonly program: number;
  readonly operation: number;
  readonly title: string;
  readonly feed: string;
  readonly lines: number[];
}

function groupsOf(made: Made): Group[] {
  const groups = new Map<string, Group>();
  for (const [program, p] of made.programs.entries()) {
    let title = '';
    for (const [i, line] of p.text.split('\n').entries()) {
      title = line.match(/^\(Operation (.*)\)/)?.[1] ?? title;
      const feed = line.startsWith('(') ? undefined : line.match(/F([\d.]+)/)?.[1];
      if (feed === undefined || /^\d+: tap/.test(title)) continue;
      const key = `${program} ${title} ${feed}`;
      const known = groups.get(key);
      if (known) known.lines.push(i);
      else groups.set(key, { program, operation: Number.parseInt(title, 10) - 1, title, feed, lines: [i] });
    }
  }
  return [...groups.values()];
}

function raised(made: Made, g: Group) {
  return made.programs.map((p, i) => {
    if (i !== g.program) return p;
    const lines = p.text.split('\n');
    for (const k of g.lines) lines[k] = lines[k]!.replace(/F[\d.]+/, `F${(Number(g.feed) * 10).toFixed(1)}`);
    return { file: p.file, text: lines.join('\n') };
  });
}

/** By Kienzle with the greatest exponent 1 - mc of the listed sets, against the feed that the operation's force was reckoned for. */
function growth(g: Group, feed: number): number {
  return Math.max(1, (10 * Number(g.feed)) / feed) ** 0.8;
}

/** The handbook's spread, and what a centre may go faster round an outside. */
const SPREAD = 2.5 * 1.5;

/** Why a raised feed would do no harm; undefined: it would. */
function harmless(made: Made, g: Group): string | undefined {
  const op = made.plan.setups.flatMap((s) => s.operations)[g.operation]!;
  const cutter = made.plan.cutters.find((c) => c.number === op.cutter)!;
  const material = findMaterial(made.job.material);
  if (material.kind === 'unknown') return undefined;
  const unit = /\bG20\b/.test(made.programs[0]!.text) ? 25.4 : 1;
  const tooth = (10 * Number(g.feed) * unit) / op.speed / cutter.flutes;
  const most = SPREAD * toothFeedStart(cutter.diameter, material.value, cutter.material).value;
  if (tooth > most) return undefined;
  const under = linesUnder(made, g);
  const longest = Math.max(
    ...courseOf(made.programs)
      .filter((m) => isUnder(m, under, g))
      .map(lengthOf),
  );
  if (longest < (10 * Number(g.feed) * unit) / op.speed)
    return `${longest.toFixed(4)} mm long, shorter than the feed of a turn`;
  const blocks = made.course.programs[g.program]!.blocks.filter((b) => under.has(b.block));
  const least = Math.min(...blocks.map((b) => b.margin ?? Number.POSITIVE_INFINITY));
  if (least / growth(g, op.feed / unit) >= 1)
    return `feed a tooth ${tooth.toFixed(3)} of ${most.toFixed(3)}, margin ${least.toFixed(1)}`;
  const wanted = made.course.margin?.wanted ?? 0;
  return least < wanted ? `held weakly as made: ${least.toFixed(1)} of ${wanted}` : undefined;
}

function isUnder(m: Move, under: ReadonlySet<number>, g: Group): boolean {
  return m.program === g.program && m.kind !== 'rapid' && under.has(m.line + 1);
}

/** Lines that run at a feed of the group: to the next F word or the next operation. */
function linesUnder(made: Made, g: Group): Set<number> {
  const lines = made.programs[g.program]!.text.split('\n');
  const under = new Set<number>();
  for (const from of g.lines) {
    under.add(from + 1);
    for (let i = from + 1; i < lines.length && !/F[\d.]|^\(Operation|^M5/.test(lines[i]!); i++) under.add(i + 1);
  }
  return under;
}

const sample = (name: string) => readFileSync(join(ROOT, 'samples', `${name}.json`), 'utf8');
/** Soft stock is eased most: its feeds are furthest below the handbook's. */
const inPom = (text: string) => JSON.stringify({ ...JSON.parse(text), material: 'POM', hold: 'auto' });
const SHORT = [sample('lifting-lever')];
const LONG = [
  ...['warning-lever', 'click', 'frame-cock', 'minute-hand', 'rack-arm'].map(sample),
  ...Array.from({ length: 8 }, (_, i) => randomJob(SEED + i).text),
  ...Array.from({ length: 8 }, (_, i) => randomLever(SEED + i).text),
  ...Array.from({ length: 4 }, (_, i) => inPom(randomLever(SEED + 50 + i).text)),
];

describe('a feed ten times too high', () => {
  it('is refused, or within every limit', () => {
    let [words, refused] = [0, 0];
    const within: string[] = [];
    const missed: string[] = [];
    for (const text of FULL ? [...SHORT, ...LONG] : SHORT) {
      const made = makeText(text, { post: 'standard' });
      if (!made.ok || made.value.report.faults.length > 0) continue;
      const { job } = made.value;
      const fast = { ...job, machine: { ...job.machine, maxFeed: 1e6 } };
      const groups = groupsOf(made.value);
      // Every third of a program's feeds is enough in short runs.
      for (const g of FULL ? groups : groups.filter((_, i) => i % 3 === 1)) {
        words++;
        const { faults } = checkPrograms(raised(made.value, g), fast);
        if (faults.some((f) => /^(feed-too-high|cutter-breaks|power|tabs-weak|hold-weak)$/.test(f.code))) {
          refused++;
          continue;
        }
        const why = harmless(made.value, g);
        (why === undefined ? missed : within).push(`${job.name}, ${g.title}, F${g.feed}: ${why ?? ''}`);
      }
    }
    console.log(`feeds times ten: ${refused} of ${words} refused, ${within.length} within every limit`);
    if (FULL) console.log(within.join('\n'));
    expect(missed).toEqual([]);
    expect(words).toBeGreaterThan(5);
    expect(refused).toBeGreaterThan(0.8 * words);
  }, 1_800_000);
});
