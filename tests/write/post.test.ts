/** Every file in posts/ through the same door, and what the door refuses. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { describeProblem } from '../../src/base/problem.ts';
import { abilitiesOf, readPost } from '../../src/write/post.ts';
import { ROOT, shippedPost } from '../helpers.ts';

const FILES = readdirSync(join(ROOT, 'posts'));
type AnyPost = any;

function standard(): AnyPost {
  return shippedPost('standard');
}

function refusal(data: unknown): string[] {
  const read = readPost(data, 'posts/mine.json');
  expect(read.ok).toBe(false);
  return read.problems.map(describeProblem);
}

describe('the posts', () => {
  it('are the four promised', () => {
    expect(FILES.sort()).toEqual(['inch.json', 'lines.json', 'plain.json', 'standard.json']);
  });

  it.each(FILES)('%s reads, is named as its file, and says why for every value', (file) => {
    const data = JSON.parse(readFileSync(join(ROOT, 'posts', file), 'utf8'));
    const read = readPost(data, `posts/${file}`);
    expect(read.problems).toEqual([]);
    expect(data.name).toBe(file.replace('.json', ''));
    const stated = Object.entries(data).filter(([key]) => key !== 'name' && key !== 'about');
    expect(stated.length).toBeGreaterThan(10);
    for (const [key, value] of stated) {
      expect(Object.keys(value as object).sort(), key).toEqual(['because', 'is']);
    }
  });

  it('keep rounding inside the arc tolerance of the standard, and chords inside the gouge limit', () => {
    for (const file of FILES) {
      const read = readPost(JSON.parse(readFileSync(join(ROOT, 'posts', file), 'utf8')), file);
      if (!read.ok) throw new Error(file);
      const { grid, chord, arcs, units } = abilitiesOf(read.value);
      // Both radii of an arc from words rounded to half the grid: at most the diagonals of three half-grid squares apart
      // (start, end and centre). NISTIR 6556 section 3.5.3.2 allows 0.002 mm or 0.0002 inch.
      if (arcs) expect(3 * Math.SQRT2 * (grid / 2)).toBeLessThan(units === 'mm' ? 0.002 : 0.0002 * 25.4);
      expect(chord).toBeLessThanOrEqual(0.0025);
    }
  });
});

describe('a post is refused', () => {
  it('for a misspelt key, with file, key and the near word', () => {
    const { decimals, ...rest } = standard();
    const told = refusal({ ...rest, decimalls: decimals });
    const line = told.find((l) => l.includes('unknown-key'));
    expect(line).toContain('posts/mine.json');
    expect(line).toContain('"decimalls"');
    expect(line).toContain('did you mean "decimals"');
  });

  it('for a misspelt key inside a value', () => {
    const data = standard();
    data.arcs = { is: true, becuse: 'for a reason' };
    const line = refusal(data).find((l) => l.includes('unknown-key'));
    expect(line).toContain('arcs');
    expect(line).toContain('did you mean "because"');
  });

  it.each([
    [
      'three decimals with arcs in mm',
      'standard',
      3,
      /post-decimals decimals\.is: 3 decimals with arcs in mm; at least 4/,
    ],
    [
      'four decimals with arcs in inch',
      'inch',
      4,
      /post-decimals decimals\.is: 4 decimals with arcs in inch; at least 5/,
    ],
  ])('for %s', (_what, name, decimals, words) => {
    const data = shippedPost(name) as AnyPost;
    data.decimals.is = decimals;
    expect(refusal(data)[0]).toMatch(words);
  });

  it('and three decimals without arcs are let in', () => {
    const data = shippedPost('lines') as AnyPost;
    data.decimals.is = 3;
    expect(readPost(data, 'posts/mine.json').ok).toBe(true);
  });

  it.each<[string, (p: AnyPost) => void]>([
    ['no reason', (p) => delete p.units.because],
    ['an empty reason', (p) => (p.units.because = '')],
    ['a bare value', (p) => (p.units = 'mm')],
    ['a key left out', (p) => delete p.frame],
    ['units of its own', (p) => (p.units.is = 'cm')],
    ['a chord above the gouge limit', (p) => (p.chord.is = 0.01)],
    ['decimals that are none', (p) => (p.decimals.is = 4.5)],
    ['a name that is a path', (p) => (p.name = '../x')],
    ['an extension with a point', (p) => (p.extension.is = '.ngc')],
  ])('for %s', (_what, spoil) => {
    const data = standard();
    spoil(data);
    const told = refusal(data);
    expect(told.length).toBeGreaterThan(0);
    for (const line of told) expect(line).toMatch(/^posts\/mine\.json \S+/);
  });

  it.each([undefined, null, 3, 'standard', []])('when it is %j', (data) => {
    expect(refusal(data).length).toBeGreaterThan(0);
  });
});
