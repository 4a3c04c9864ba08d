/** The course along the written program: its times, its places, and that it tells what the holding was reckoned to. */
import { describe, expect, it } from 'vitest';
import { strokesOf } from '../../src/course/strokes.ts';
import { judge } from '../../src/hold/evaluate/judge.ts';
import { chatterScreen, directionFactor, leastChatterDepth, meanChip } from '../../src/mechanics/cutting/chatter.ts';
import { mustMake, mustMakeSample } from '../helpers.ts';
import { CUTTERS, lever } from '../hold/scenes.ts';

const MADE = mustMake(lever());

describe('blocks', () => {
  it('are lines that move, in order, one after another without gaps in time', () => {
    const lines = MADE.programs[0]!.text.split('\n');
    let clock = 0;
    let last = 0;
    for (const b of MADE.course.programs[0]!.blocks) {
      expect(b.block).toBeGreaterThan(last);
      expect(lines[b.block - 1]).toMatch(/^G|^X|^Y|^Z/);
      expect(b.start).toBeCloseTo(clock, 9);
      clock += b.seconds;
      last = b.block;
    }
    expect(MADE.course.programs[0]!.seconds).toBeCloseTo(clock, 9);
    expect(MADE.course.programs[0]!.blocks.length).toBeGreaterThan(50);
  });

  it('[D] path over feed is a lower bound of the time of every stroke, and acceleration adds no more than its share', () => {
    const strokes = strokesOf(MADE.moves.programs[0]!, MADE.programs[0]!, MADE.job.machine);
    const bare = strokes.reduce((sum, s) => sum + s.length / (s.feed / 60) + s.dwell, 0);
    const a = MADE.job.machine.acceleration;
    const slack = strokes.reduce((sum, s) => sum + s.feed / 60 / a, 0);
    expect(MADE.course.programs[0]!.seconds).toBeGreaterThanOrEqual(bare - 1e-6);
    expect(MADE.course.programs[0]!.seconds).toBeLessThanOrEqual(bare + slack + 1e-6);
  });

  it('carry margin and movement where the outline is cut, and none while holes are drilled', () => {
    const ops = MADE.plan.setups[0]!.operations;
    const span = (id: number) => MADE.programs[0]!.operations.find((o) => o.id === id)!;
    let cutting = 0;
    for (const op of ops) {
      const { from, to } = span(op.id);
      const inside = MADE.course.programs[0]!.blocks.filter((b) => b.block >= from && b.block <= to);
      if (op.what === 'drill' || op.what === 'spot') expect(inside.every((b) => b.margin === null)).toBe(true);
      if (op.what === 'finish') {
        cutting++;
        const held = inside.filter((b) => b.margin !== null);
        expect(held.length).toBeGreaterThan(3);
        for (const b of held) {
          expect(b.movement).toBeGreaterThan(0);
          expect(b.force).toBeGreaterThan(0);
        }
      }
    }
    expect(cutting).toBeGreaterThan(0);
  });
});

describe('worst of all blocks', () => {
  it('is what the holding was reckoned to, at a block that says the same', () => {
    const { margin, movement } = MADE.course;
    const j = judge(MADE.holding.evaluation);
    // The path passes every spot of the edge outside the tabs; over a tab the nearest spot may be passed by.
    expect(margin!.least / margin!.wanted).toBeGreaterThanOrEqual((j.margin.least / j.margin.wanted) * (1 - 1e-9));
    expect(margin!.least / margin!.wanted).toBeLessThanOrEqual((j.margin.least / j.margin.wanted) * 1.3);
    expect(movement!.most / movement!.wanted).toBeLessThanOrEqual((j.movement.most / j.movement.wanted) * (1 + 1e-9));
    expect(movement!.most / movement!.wanted).toBeGreaterThan((j.movement.most / j.movement.wanted) * 0.7);
    const block = MADE.course.programs[margin!.program]!.blocks.find((b) => b.block === margin!.block)!;
    expect(block.margin).toBeCloseTo(margin!.least, 9);
    const moved = MADE.course.programs[movement!.program]!.blocks.find((b) => b.block === movement!.block)!;
    expect(moved.movement).toBeCloseTo(movement!.most, 9);
  });

  it('is the same whatever the post: arcs, chords, one file or several', () => {
    for (const post of ['plain', 'lines', 'inch']) {
      const other = mustMake(lever(), { post });
      expect(other.course.margin!.least).toBeCloseTo(MADE.course.margin!.least, 6);
      expect(other.course.movement!.most).toBeCloseTo(MADE.course.movement!.most, 6);
      expect(other.course.programs.length).toBe(other.programs.length);
    }
  }, 20_000);

  it('thinning the tabs is judged at the tabs', () => {
    const thinned = mustMakeSample('lifting-lever');
    const last = thinned.plan.setups[0]!.operations.find((o) => o.what === 'lighten');
    if (last === undefined) return expect(thinned.holding.tabs.every((t) => t.height === t.cutHeight)).toBe(true);
    const span = thinned.programs.flatMap((p) => p.operations).find((o) => o.id === last.id)!;
    const inside = thinned.course.programs
      .flatMap((p) => p.blocks)
      .filter((b) => b.block >= span.from && b.block <= span.to);
    expect(inside.filter((b) => b.margin !== null).length).toBeGreaterThanOrEqual(thinned.holding.tabs.length);
  }, 20_000);
});

describe('rhythm', () => {
  it('[D] teeth pass z n/60 times a second; modes ascend', () => {
    const { rhythm, modes } = MADE.course;
    expect(rhythm.length).toBeGreaterThan(0);
    for (const r of rhythm) {
      const op = MADE.plan.setups[0]!.operations.find((o) => o.id === r.operation)!;
      expect(r.passing).toBeCloseTo((2 * op.speed) / 60, 9);
      expect(r.says).toMatch(/chatter: (low|medium|high)/);
    }
    expect(modes.length).toBeGreaterThan(0);
    modes.forEach((m, i) => expect(m).toBeGreaterThanOrEqual(modes[i - 1] ?? 1));
  });

  it('[D] Tlusty: a quarter turn of one tooth against the formula by hand; stiffer is deeper', () => {
    const span = { from: Math.PI / 2, to: Math.PI };
    // Means over a quarter turn: |sin cos| 1/pi, cos^2 1/2; a quarter of a tooth in the cut.
    const u = 1 / Math.PI + 0.3 / 2;
    expect(directionFactor({ span, radial: 0.3 })).toBeCloseTo(u, 4);
    const cut = { specific: 2000, radial: 0.3, teeth: 1, span };
    expect(leastChatterDepth(10_000, cut, 0.02)).toBeCloseTo((2 * 10_000 * 0.02 * 1.02) / (2000 * u * 0.25), 2);
    expect(leastChatterDepth(20_000, cut)).toBeCloseTo(2 * leastChatterDepth(10_000, cut), 9);
    expect(meanChip(0.03, { from: 0, to: Math.PI })).toBeCloseTo((2 * 0.03) / Math.PI, 12);
    expect(chatterScreen(0.1, 0.2, 2)).toBe('low');
    expect(chatterScreen(0.5, 0.2, 2)).toBe('medium');
    expect(chatterScreen(2, 0.2, 2)).toBe('high');
    expect(chatterScreen(2, 0.2, 20)).toBe('medium');
  });
});

describe('strokes', () => {
  const program = MADE.moves.programs[0]!;
  const strokes = strokesOf(program, MADE.programs[0]!, MADE.job.machine);

  it('wait as long as the program does: G4 and the dwell of every hole of a cycle', () => {
    let asked = 0;
    for (const m of program.moves) {
      if (m.kind === 'dwell') asked += m.seconds;
      if (m.kind === 'cycle') asked += m.dwell * m.places.length;
    }
    expect(asked).toBeGreaterThan(0);
    expect(strokes.reduce((sum, s) => sum + s.dwell, 0)).toBeCloseTo(asked, 9);
  });

  it('come out of a reamed hole at the feed they went in with, as G85 does (NISTIR 6556 section 3.5.16.6)', () => {
    let out = 0;
    for (const m of program.moves) {
      if (m.kind !== 'cycle' || m.cycle !== 'ream') continue;
      for (const p of m.places) {
        const rises = strokes.filter((s) => !s.rapid && s.from.x === p.x && s.from.y === p.y && s.to.z > s.from.z);
        const back = rises.find((s) => s.from.z === m.bottom && s.to.z === m.from);
        expect(back?.feed).toBe(m.feed);
        out++;
      }
    }
    expect(out).toBeGreaterThan(0);
  });

  it('a chamfer takes power: its peak force at the speed of its edge, within the motor', () => {
    const part = JSON.parse(lever()).part;
    const cutters = [
      ...CUTTERS,
      { number: 9, kind: 'chamfer cutter', diameter: 6, angle: 90, flutes: 2, stickOut: 30 },
    ];
    const made = mustMake(lever({ part: { ...part, chamfer: 0.3 }, cutters }));
    const op = made.plan.setups[0]!.operations.find((o) => o.what === 'chamfer' && o.target.kind === 'edges')!;
    const { from, to } = made.programs[0]!.operations.find((o) => o.id === op.id)!;
    const held = made.course.programs[0]!.blocks.filter((b) => b.block >= from && b.block <= to && b.margin !== null);
    expect(held.length).toBeGreaterThan(0);
    for (const b of held) {
      expect(b.power).toBeGreaterThan(0);
      expect(b.power).toBeLessThan(made.job.machine.power);
    }
  });
});
