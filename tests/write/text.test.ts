/**
 * Text rules on every sample and post. The stored programs stand for what is made (tests/golden.test.ts holds them equal);
 * pairs that are not stored are made here.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readPost } from '../../src/write/post.ts';
import { mustMake, mustMakeSample, programsUnder, ROOT, shippedPost } from '../helpers.ts';
import { FULL } from '../runs.ts';
import { type TextFacts, textFaults } from './text-rules.ts';

const SAMPLES = readdirSync(join(ROOT, 'samples'))
  .filter((f) => f.endsWith('.json'))
  .map((f) => basename(f, '.json'));
const POSTS = ['standard', 'plain', 'lines', 'inch'];

function factsOf(name: string): TextFacts {
  const read = readPost(shippedPost(name), name);
  if (!read.ok) throw new Error(name);
  const { units, decimals, feedDecimals, arcs, cycles } = read.value;
  // No sample's machine has coolant.
  return { units, decimals, feedDecimals, arcs, cycles, changes: read.value.cutterChange === 'code', coolant: 'none' };
}

function programsOf(sample: string, post: string): string[] {
  const stored = join(ROOT, 'tests/cases', sample, post);
  if (existsSync(stored)) return readdirSync(stored).map((f) => readFileSync(join(stored, f), 'utf8'));
  return programsUnder(mustMakeSample(sample), post).map((p) => p.text);
}

describe('text rules', () => {
  const stored = (sample: string, post: string) => existsSync(join(ROOT, 'tests/cases', sample, post));
  // Pairs that have to be made are made of every other sample; of all with `LAWS=full`.
  const pairs = SAMPLES.flatMap((sample, i) => POSTS.map((post) => [sample, post, i] as const)).filter(
    ([sample, post, i]) => stored(sample, post) || i % 2 === 0 || FULL,
  );

  it('are held to samples of every post', () => {
    expect(pairs.length).toBeGreaterThanOrEqual(SAMPLES.length * 2 + 4);
    for (const post of POSTS) expect(pairs.filter(([, p]) => p === post).length).toBeGreaterThanOrEqual(3);
  });

  it.each(pairs)('%s by post %s', (sample, post) => {
    const programs = programsOf(sample, post);
    expect(programs.length).toBeGreaterThan(post === 'plain' || post === 'lines' ? 1 : 0);
    for (const text of programs) expect(textFaults(text, factsOf(post))).toEqual([]);
    if (post === 'plain' || post === 'lines') {
      for (const text of programs) expect(text.match(/^\(CUTTER /gm)).toHaveLength(1);
    }
  });

  it('lets coolant be written where the machine has it', () => {
    const job = JSON.stringify({
      name: 'wet lever',
      material: 'CuZn39Pb3',
      part: {
        thickness: 3,
        outline: {
          bosses: [
            { at: [0, 0], radius: 6 },
            { at: [30, 0], radius: 4 },
          ],
        },
      },
      machine: { coolant: 'flood' },
    });
    const facts = factsOf('standard');
    for (const { text } of mustMake(job).programs) {
      expect(text).toMatch(/^M8$/m);
      expect(textFaults(text, { ...facts, coolant: 'flood' })).toEqual([]);
      expect(textFaults(text, facts).every((f) => f.includes('flood'))).toBe(true);
    }
  });
});

describe('the rules themselves', () => {
  const whole = readFileSync(join(ROOT, 'tests/cases/lifting-lever/standard/lifting-lever.ngc'), 'utf8');

  it.each<[string, (t: string) => string, string]>([
    ['a line number', (t) => t.replace('\nM5\n', '\nN10 M5\n'), 'must not be written'],
    ['two spaces', (t) => t.replace('\nG0 X', '\nG0  X'), 'spelling'],
    ['a comment behind words', (t) => t.replace('\nM5\n', '\nM5 (off)\n'), 'spelling'],
    ['a bracket inside', (t) => t.replace('(Material ', '(Material ['.replace('[', '(')), 'a bad comment'],
    ['a long comment', (t) => t.replace('(Material ', `(${'long '.repeat(20)}`), 'a bad comment'],
    ['an exponent', (t) => t.replace(/^G1 Z\S+/m, 'G1 Z1e-3'), 'spelling'],
    ['minus nought', (t) => t.replace(/^G1 Z\S+/m, 'G1 Z-0'), 'spelling'],
    ['a decimal comma', (t) => t.replace(/^G1 Z\S+/m, 'G1 Z1,5'), 'spelling'],
    ['five decimals', (t) => t.replace(/^G1 Z\S+/m, 'G1 Z1.00001'), 'too many decimals'],
    ['an arc by radius', (t) => t.replace(/^(G2 X\S+ Y\S+) I\S+ J\S+/m, '$1 R5'), 'an arc'],
    ['G28', (t) => t.replace('\nM2\n', '\nG28\nM2\n'), 'must not be written'],
    ['G91', (t) => t.replace('G90', 'G91'), 'must not be written'],
    ['G64', (t) => t.replace('G61', 'G64'), 'does not state G61'],
    ['no end', (t) => t.replace('\nM2\n', '\n'), 'no % frame'],
    ['M2 in company', (t) => t.replace('\nM2\n', '\nM5 M2\nM2\n'), 'M2 not alone'],
    ['no frame', (t) => t.replaceAll('%\n', ''), 'no % frame'],
    ['a letter outside ASCII', (t) => t.replace('mm thick', 'mm \u00f8 thick'), 'ASCII'],
    ['carriage returns', (t) => t.replaceAll('\n', '\r\n'), 'ASCII'],
    ['mist', (t) => t.replace(/^(S\d+ M3)$/m, '$1\nM7'), 'mist'],
    ['X Y before Z', (t) => t.replace(/^(G0 Z\S+)\n(G0 X.*)$/m, '$2\n$1'), 'not Z alone'],
    ['X and Z together', (t) => t.replace(/^(G0 Z\S+)\nG0 (X.*)$/m, '$1 $2'), 'not Z alone'],
    ['no second move', (t) => t.replace(/^(G0 Z\S+)\nG0 X.*$/m, '$1'), 'not X Y'],
    ['no speed', (t) => t.replace(/^S\d+ M3$/m, 'M3'), 'without S'],
    ['no spindle', (t) => t.replace(/^S\d+ M3\n/m, ''), 'before S and M3'],
    ['no feed', (t) => t.replace(/^(G98 .*) F\S+$/m, '$1'), 'before F'],
    ['a stop while turning', (t) => t.replaceAll('\nM5\n', '\n'), 'turning'],
    ['a stop with the cutter down', (t) => t.replace(/^G0 Z\S+\n(?=M5\nM2)/m, ''), 'cutter down'],
  ])('tell %s', (_what, spoil, words) => {
    const spoilt = spoil(whole);
    expect(spoilt).not.toBe(whole);
    const told = textFaults(spoilt, factsOf('standard'));
    expect(told.join('\n')).toContain(words);
  });

  it('tell what a post does not say', () => {
    expect(textFaults(whole, { ...factsOf('standard'), cycles: false }).join()).toContain('a cycle');
    expect(textFaults(whole, { ...factsOf('standard'), arcs: false }).join()).toContain('an arc');
    expect(textFaults(whole, { ...factsOf('standard'), changes: false }).join()).toContain('a cutter change');
    expect(textFaults(whole, factsOf('inch')).join()).toContain('does not state G20');
  });
});
