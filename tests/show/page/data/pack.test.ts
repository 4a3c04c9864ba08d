import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ProgramCourse } from '../../../../src/course/course.ts';
import { packCourse, unpackCourse } from '../../../../src/show/page/data/course-pack.ts';
import { newColumns, packMoves, sweepOf, unpackMoves } from '../../../../src/show/page/data/moves-pack.ts';
import {
  ColumnReader,
  ColumnWriter,
  packColumns,
  packText,
  unpackColumns,
  unpackText,
} from '../../../../src/show/page/data/pack.ts';
import { sha256Base64 } from '../../../../src/show/page/sha256.ts';
import { runs, SEED } from '../../../runs.ts';
import { longView } from '../fixture.ts';

const many = { numRuns: runs(300), seed: SEED };

describe('packed columns', () => {
  it('give back every integer', () => {
    fc.assert(
      fc.property(fc.array(fc.maxSafeInteger().map((v) => Math.trunc(v / 4))), (values) => {
        const w = new ColumnWriter();
        for (const v of values) w.signed(v);
        const [column] = unpackColumns(packColumns([w.done()]));
        const r = new ColumnReader(column!);
        expect(values.map(() => r.signed() + 0)).toEqual(values.map((v) => v + 0));
      }),
      many,
    );
  });

  it('give back any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 400 }), (t) => {
        expect(unpackText(packText(t))).toBe(t);
      }),
      many,
    );
  });

  it('refuse to go on past their end', () => {
    expect(() => new ColumnReader(new Uint8Array([128])).count()).toThrow(RangeError);
  });
});

describe('packed moves', () => {
  const move = fc.record({
    kind: fc.integer({ min: 0, max: 7 }),
    x: fc.double({ min: -300, max: 300, noNaN: true }),
    y: fc.double({ min: -300, max: 300, noNaN: true }),
    z: fc.double({ min: -60, max: 60, noNaN: true }),
    cx: fc.double({ min: -300, max: 300, noNaN: true }),
    cy: fc.double({ min: -300, max: 300, noNaN: true }),
    feed: fc.integer({ min: 0, max: 40 }),
    skip: fc.integer({ min: 0, max: 5 }),
  });

  it('come back within half a micrometre, in their blocks', () => {
    fc.assert(
      fc.property(fc.array(move, { maxLength: 60 }), (list) => {
        const m = newColumns(list.length);
        let block = 0;
        for (const [i, v] of list.entries()) {
          block += v.skip;
          m.kind[i] = v.kind;
          m.block[i] = block;
          m.feed[i] = v.feed;
          m.x[i + 1] = v.x;
          m.y[i + 1] = v.y;
          m.z[i + 1] = v.z;
          m.cx[i] = v.cx;
          m.cy[i] = v.cy;
        }
        const back = unpackMoves(packMoves(m), list.length);
        expect([...back.kind]).toEqual([...m.kind]);
        expect([...back.block]).toEqual([...m.block]);
        expect([...back.feed]).toEqual([...m.feed]);
        for (let i = 0; i <= list.length; i++) {
          expect(Math.abs(back.x[i]! - m.x[i]!)).toBeLessThan(0.0005001);
          expect(Math.abs(back.z[i]! - m.z[i]!)).toBeLessThan(0.0005001);
          const k = m.kind[i];
          if (k !== undefined && k >= 2 && k <= 5) expect(Math.abs(back.cx[i]! - m.cx[i]!)).toBeLessThan(0.0005001);
        }
      }),
      many,
    );
  });

  it('know a quarter from three quarters and from a whole turn', () => {
    const m = newColumns(4);
    m.kind.set([2, 3, 4, 5]);
    m.x.set([1, 0, 1, 1, 1]);
    m.y.set([0, 1, 0, 0, 0]);
    const turns = [0, 1, 2, 3].map((i) => sweepOf(m, i) / (Math.PI / 2));
    expect(turns[0]).toBeCloseTo(1);
    expect(turns[1]).toBeCloseTo(-1);
    expect(turns.slice(2)).toEqual([4, -4]);
  });

  it('take less than a byte a move on a smooth path', () => {
    const view = longView(100_000, false);
    expect(view.programs[0]!.moves.length).toBeLessThan(100_000);
    expect(view.programs[0]!.moveCount).toBe(100_000);
  });
});

describe('packed course', () => {
  it('keeps what is known and what is not', () => {
    const block = { block: 7, start: 1.25, seconds: 0.5, force: 41.2, power: 33, cutterDeflection: 0.0042 };
    const course: ProgramCourse = {
      seconds: 9,
      blocks: [
        { ...block, margin: 3.21, wantedMargin: 2, movement: 0.0123, wantedMovement: 0.02 },
        { ...block, block: 9, start: 1.75, margin: null, wantedMargin: null, movement: null, wantedMovement: null },
        { ...block, block: 10, start: 2.25, margin: 0, wantedMargin: 3, movement: 0, wantedMovement: 0.05 },
      ],
    };
    const c = unpackCourse(packCourse(course));
    expect([...c.block]).toEqual([7, 9, 10]);
    expect(c.start[1]).toBeCloseTo(1.75, 3);
    expect(c.margin[0]).toBeCloseTo(3.21, 2);
    expect(c.movement[0]).toBeCloseTo(0.0123, 4);
    expect([c.margin[1], c.movement[1]]).toEqual([NaN, NaN]);
    expect([c.margin[2], c.movement[2]]).toEqual([0, 0]);
    expect([...c.wantedMargin]).toEqual([2, NaN, 3]);
    expect([...c.wantedMovement]).toEqual([expect.closeTo(0.02, 6), NaN, expect.closeTo(0.05, 6)]);
  });
});

describe('SHA-256', () => {
  // FIPS 180-4, example "abc" (published by NIST with the standard), in base64.
  it('agrees with the published example', () => {
    const hex = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad';
    expect(sha256Base64('abc')).toBe(Buffer.from(hex, 'hex').toString('base64'));
  });

  it('agrees with Node’s own on texts of every length about a block', () => {
    for (let n = 0; n < 200; n++) {
      const text = 'åb'.repeat(n);
      expect(sha256Base64(text)).toBe(createHash('sha256').update(text).digest('base64'));
    }
  });
});
