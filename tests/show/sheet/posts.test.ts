/** The sheet says what the programs say, whichever post wrote them: post, feeds, touch-off, over every sample and post. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { MM_PER_INCH } from '../../../src/base/units.ts';
import { readProgram } from '../../../src/check/language/read.ts';
import { planFile } from '../../../src/show/plan-file.ts';
import type { SheetInput } from '../../../src/show/sheet/input.ts';
import { setupSheet } from '../../../src/show/sheet/sheet.ts';
import { makeText, ROOT } from '../../helpers.ts';
import { quickInput, SAMPLES, sampleText } from './quick.ts';

const POSTS = readdirSync(join(ROOT, 'posts')).map((f) => f.replace(/\.json$/, ''));
const LEVER = sampleText('lifting-lever');

describe.each(SAMPLES.flatMap((sample) => POSTS.map((post) => [sample, post] as const)))(
  '%s by post %s',
  (sample, post) => {
    const input = quickInput(sampleText(sample), { post });
    const html = setupSheet(input);

    it('names the post that wrote the programs', () => {
      expect(planFile(input)).toMatchObject({ post });
      const named = [...html.matchAll(/written for the post `(\w+)`/g)].map((m) => m[1]);
      expect(named.filter((n) => n !== post)).toEqual([]);
    });

    it('shows as F in program the least and greatest feed that a reader of the text finds', () => {
      const cells = feedCells(html);
      const wanted = feedsRead(input);
      expect(wanted.size).toBeGreaterThan(2);
      for (const [number, [least, most]] of wanted) {
        const shown = cells.get(number)!.split(' to ').map(Number);
        expect([shown[0], shown.at(-1)], `operation ${number}`).toEqual([least, most].map((v) => expect.closeTo(v, 6)));
      }
      const unit = inches(input) ? 'in/min' : 'mm/min';
      expect(html).toContain(`F in program, ${unit}`);
    });

    it('gives one place to touch off, on the first page, at the stops and after a power failure', () => {
      const places = touchPlaces(html);
      const programs = input.programs.map((p) => p.text).join('\n');
      const said = [...programs.matchAll(/TOUCH OFF[^)]* AT X ?(-?[\d.]+) Y ?(-?[\d.]+)/gi)];
      // With lengths from a table nothing is touched off.
      if (said.length === 0) return expect(places).toEqual([]);
      expect(places.length).toBeGreaterThanOrEqual(said.length + 2);
      for (const [x, y] of places) {
        expect(x).toBeCloseTo(Number(said[0]![1]), 6);
        expect(y).toBeCloseTo(Number(said[0]![2]), 6);
      }
    });
  },
);

describe('a job that names no post', () => {
  const text = LEVER.replace(/,\s*"post": "standard"/, '');

  it('is told of the default only where no other post is asked for', () => {
    expect(text).not.toBe(LEVER);
    expect(setupSheet(quickInput(text))).toContain('written for the post `standard`');
    expect(setupSheet(quickInput(text, { post: 'inch' }))).not.toContain('written for the post');
    const made = makeText(text, { post: 'inch' });
    if (!made.ok) throw new Error('not made');
    expect(made.value.job.post).toBe('inch');
    expect(made.value.job.defaults.join(' ')).not.toContain('post');
  });
});

function inches({ programs }: SheetInput): boolean {
  return programs[0]!.text.split('\n').some((l) => /^G.*G20/.test(l));
}

/** Least and greatest feed of each operation by its number, in the program's units, as the check's reader has it. */
function feedsRead(input: SheetInput): Map<number, [number, number]> {
  const scale = inches(input) ? MM_PER_INCH : 1;
  const found = new Map<number, [number, number]>();
  for (const { file, text, operations } of input.programs) {
    for (const m of readProgram(text, { file, unknownAfterStop: true }).moves) {
      const span = operations.find((o) => o.from <= m.block && m.block <= o.to);
      if (span === undefined || (m.kind !== 'feed' && m.kind !== 'arc')) continue;
      const feed = m.feed! / scale;
      const [least, most] = found.get(span.id + 1) ?? [feed, feed];
      found.set(span.id + 1, [Math.min(least, feed), Math.max(most, feed)]);
    }
  }
  return found;
}

/** The column by the number of the operation. */
function feedCells(html: string): Map<number, string> {
  const cells = new Map<number, string>();
  for (const [, table] of html.matchAll(/<table><caption>Set-up(.*?)<\/table>/gs)) {
    for (const [, row] of table!.matchAll(/<tr>(.*?)<\/tr>/gs)) {
      const texts = [...row!.matchAll(/<td[^>]*>(.*?)<\/td>/gs)].map((m) => m[1]!.replace(/<[^>]*>/g, ''));
      if (texts.length > 5) cells.set(Number(texts[0]), texts[5]!);
    }
  }
  return cells;
}

/** Every place that the sheet names for touching off; where two spellings stand, that of the control. */
function touchPlaces(html: string): [number, number][] {
  const text = html.replace(/<[^>]*>/g, ' ');
  const sentences = [...text.matchAll(/Touch off[^:]*? at (X [^:;]*? Y [^:;]*?)(?::| {2}| \(the cross)/g)].map(
    (m) => m[1]!,
  );
  return sentences.map((s) => {
    const spelt = [...s.matchAll(/X (-?[\d.]+) Y (-?\d+(?:\.\d+)?)/g)].at(-1)!;
    return [Number(spelt[1]), Number(spelt[2])];
  });
}
