/** The course against the written text itself, read by the check's reader, which knows nothing of plan or moves. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readProgram } from '../../src/check/language/read.ts';
import { mustMake, ROOT } from '../helpers.ts';

const text = readFileSync(join(ROOT, 'samples/lifting-lever.json'), 'utf8');

describe.each(['standard', 'plain'])('the course of the lifting lever by post %s', (post) => {
  const made = mustMake(text, { file: 'samples/lifting-lever.json', post });
  const read = made.programs.map((p) => readProgram(p.text, { unknownAfterStop: true }).moves);

  it('has one entry for each line that moves, in order', () => {
    expect(made.course.programs).toHaveLength(made.programs.length);
    made.course.programs.forEach((course, i) => {
      // A move to the clearance height from wherever the cutter stands, and a wait, have no length: they may be left out.
      const lines = made.programs[i]!.text.split('\n');
      const moving = [
        ...new Set(read[i]!.filter((m) => ['rapid', 'feed', 'arc'].includes(m.kind)).map((m) => m.block)),
      ];
      const must = moving.filter((b) => !/^G0 Z/.test(lines[b - 1]!));
      const listed = course.blocks.map((b) => b.block);
      expect(must.length).toBeGreaterThan(0);
      expect(must.filter((b) => !listed.includes(b))).toEqual([]);
      expect(listed.filter((b) => !moving.includes(b))).toEqual([]);
      expect(listed).toEqual([...listed].sort((x, y) => x - y));
    });
  });

  it('has one clock: each line starts when the one before it ends, and the last ends with the program', () => {
    for (const { blocks, seconds } of made.course.programs) {
      let clock = 0;
      for (const b of blocks) {
        expect(b.start).toBeCloseTo(clock, 6);
        expect(b.seconds).toBeGreaterThan(0);
        clock += b.seconds;
      }
      expect(seconds).toBeCloseTo(clock, 6);
    }
  });

  it('is never faster than the written feed', () => {
    let seen = 0;
    made.course.programs.forEach((course, i) => {
      const lines = made.programs[i]!.text.split('\n');
      for (const b of course.blocks) {
        if (!/^G[123] /.test(lines[b.block - 1]!)) continue;
        const feeds = read[i]!.filter((m) => m.block === b.block && (m.kind === 'feed' || m.kind === 'arc'));
        const least = feeds.reduce((sum, m) => {
          if (m.kind === 'arc') {
            const rise = (m.to.z ?? 0) - (m.from.z ?? 0);
            return sum + Math.hypot(m.radius * m.sweep, rise) / (m.feed! / 60);
          }
          if (m.kind !== 'feed' || m.from.x === null || m.from.z === null) return sum;
          const by = [m.to.x! - m.from.x, m.to.y! - m.from.y!, m.to.z! - m.from.z];
          return sum + Math.hypot(...by) / (m.feed! / 60);
        }, 0);
        if (least > 0) seen++;
        // The text carries the feed with one decimal and places with four.
        expect(b.seconds).toBeGreaterThanOrEqual(least * 0.998 - 1e-3);
      }
    });
    expect(seen).toBeGreaterThan(50);
  });

  it('has no force where only rapids run, and a force where there is a margin', () => {
    let cutting = 0;
    made.course.programs.forEach((course, i) => {
      for (const b of course.blocks) {
        const moves = read[i]!.filter((m) => m.block === b.block);
        if (moves.every((m) => m.kind === 'rapid' || m.kind === 'dwell'))
          expect([b.force, b.power, b.margin]).toEqual([0, 0, null]);
        if (b.margin === null) continue;
        cutting++;
        expect(b.force).toBeGreaterThan(0);
        expect(b.margin).toBeGreaterThan(0);
      }
    });
    expect(cutting).toBeGreaterThan(20);
  });
});
