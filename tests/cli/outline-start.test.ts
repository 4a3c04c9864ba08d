/** `tabwright outline` on drawings and jobs, and `tabwright start`, whose job `make` accepts. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../helpers.ts';
import { everythingIn, leverJob, scratch, tabwright, tabwrightHere, writeJob } from './command.ts';

const { folder, clear } = scratch();
afterAll(clear);
beforeAll(() => {
  writeJob(folder, 'lever.json', leverJob());
});

/** Two bosses of radius 6 and 4, 32 apart. Perimeter and area by the closed form of two circles and their outer tangents. */
const TURN = Math.asin((6 - 4) / 32);
const TANGENT = 2 * Math.sqrt(32 ** 2 - (6 - 4) ** 2);
const EDGE = TANGENT + 6 * (Math.PI + 2 * TURN) + 4 * (Math.PI - 2 * TURN);
const AREA = (TANGENT / 2) * (6 + 4) + (6 ** 2 * (Math.PI + 2 * TURN)) / 2 + (4 ** 2 * (Math.PI - 2 * TURN)) / 2;

describe('outline', () => {
  it.each(['svg', 'dxf'])('draws a job as %s and reads its own drawing back', async (ending) => {
    const drawn = tabwright(['outline', 'lever.json', '-o', `lever.${ending}`], { cwd: folder });
    expect(drawn.code).toBe(0);
    expect(drawn.out).toBe(`lever.${ending}\n`);
    const read = await tabwrightHere(['outline', `lever.${ending}`], { cwd: folder });
    expect(read.code).toBe(0);
    // The tabs it drew itself are no open outlines, nor drawn twice where they lie on a straight edge.
    expect(read.lines.filter((l) => !/^note \S+ (assumed|which-hole|part-zero)/.test(l))).toEqual([]);
    expect(read.out).toContain('3 lines that mark tabs left out');
    const found = /42 x 12 mm, edge ([\d.]+) mm, area ([\d.]+) mm2, 2 lines and 2 arcs, 0 openings, 2 round holes/.exec(
      read.out,
    );
    expect(Number(found![1])).toBeCloseTo(EDGE, 2);
    expect(Number(found![2])).toBeCloseTo(AREA, 2);
    expect(read.out).toContain('1 x dia 5.006 mm');
  });

  it('gives a job to start from that make accepts', async () => {
    const run = await tabwrightHere(['outline', join(ROOT, 'samples/frame-cock.dxf'), '--json', '--layer', 'OUTLINE']);
    expect(run.code).toBe(0);
    const { found, job } = JSON.parse(run.out);
    expect(found[0]).toBe('4 closed outlines, drawn in mm');
    expect(job.part.holes).toHaveLength(3);
    const made = await tabwrightHere(['make', writeJob(folder, 'drawn.json', job), '-o', join(folder, 'drawn')]);
    expect(made.err).not.toMatch(/^fault/m);
    expect(made.code).toBe(0);
  });

  it.each([
    ['a layer that is not there', ['--layer', 'NOWHERE'], 'NOWHERE'],
    ['unknown units', ['--units', 'foot'], 'mm or inch'],
    ['a drawing to write that is none', ['-o', 'picture.png'], '.svg or .dxf'],
  ])('refuses %s', async (_what, options, words) => {
    const run = await tabwrightHere(['outline', join(ROOT, 'samples/frame-cock.dxf'), ...options], { cwd: folder });
    expect(run.code).toBe(2);
    expect(run.out).toBe('');
    expect(run.err).toContain(words);
    expect(everythingIn(folder)).not.toContain('picture.png');
  });

  it('refuses a drawing without a closed outline', async () => {
    writeFileSync(
      join(folder, 'open.svg'),
      '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40"><path d="M1 1H20V20"/></svg>',
    );
    const run = await tabwrightHere(['outline', 'open.svg'], { cwd: folder });
    expect(run.code).toBe(2);
    expect(run.out).toBe('');
    expect(run.err).toMatch(/^fault /m);
  });
});

describe('start', () => {
  it('writes a job of the answers given, which make accepts', async () => {
    const options = [
      '--name',
      'Short lever',
      '--thickness',
      '3',
      '--length',
      '24',
      '--material',
      'S275JR',
      '--copies',
      '1',
    ];
    const run = await tabwrightHere(['start', '-o', 'short.json', ...options], { cwd: folder });
    expect(run.code).toBe(0);
    expect(run.out).toBe('short.json\n');
    expect(run.err).toContain('tabwright make short.json');
    expect(readFileSync(join(folder, 'short.json'), 'utf8')).toContain('"Short lever"');
    const made = await tabwrightHere(['make', 'short.json'], { cwd: folder });
    expect(made.code).toBe(0);
    expect(everythingIn(folder)).toContain(join('short-lever', 'short-lever.ngc'));
  });

  it('asks nothing where there is no terminal', async () => {
    const run = tabwright(['start', '-o', 'usual.json'], { cwd: folder });
    expect(run.code).toBe(0);
    expect(run.err).toContain('no terminal to ask on');
    expect((await tabwrightHere(['make', 'usual.json'], { cwd: folder })).code).toBe(0);
  });

  it('never writes over a file', async () => {
    writeFileSync(join(folder, 'kept.json'), 'mine');
    const run = await tabwrightHere(['start', '-o', 'kept.json', '--name', 'x'], { cwd: folder });
    expect(run.code).toBe(2);
    expect(run.err).toContain('file-exists');
    expect(readFileSync(join(folder, 'kept.json'), 'utf8')).toBe('mine');
  });

  it('refuses an answer that does not read', async () => {
    const run = await tabwrightHere(['start', '-o', 'never.json', '--thickness', 'thin'], { cwd: folder });
    expect(run.code).toBe(2);
    expect(run.lines).toHaveLength(1);
    expect(run.err).toContain('thickness is "thin"');
    expect(everythingIn(folder)).not.toContain('never.json');
  });
});
