/** The figures to turn by hand, against the geometry of the work turned on a table, the offset engine and trigonometry. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bossesAndWebs } from '../../../../src/geometry/bosses.ts';
import { distanceToLoop } from '../../../../src/geometry/measure/distance.ts';
import { loopLength } from '../../../../src/geometry/measure/loop.ts';
import { dist, rotate, sub } from '../../../../src/geometry/measure/point.ts';
import { pointAt, segmentLength } from '../../../../src/geometry/measure/segment.ts';
import { placeLoop } from '../../../../src/geometry/measure/transform.ts';
import { circle, fromVertices } from '../../../../src/geometry/shapes.ts';
import type { Loop, Point, Segment } from '../../../../src/geometry/types.ts';
import type { Tab } from '../../../../src/hold/holding.ts';
import {
  centresOf,
  type HandFigures,
  type HandStep,
  handFigures,
  placeFromFigures,
} from '../../../../src/show/sheet/by-hand/by-hand.ts';
import { tabStretches } from '../../../../src/show/sheet/by-hand/hand-tabs.ts';
import { cutterPath, MOST_PIECES } from '../../../../src/show/sheet/drawing/cutter-path.ts';
import { turnText } from '../../../../src/show/sheet/figures.ts';
import { offsetLoop } from '../../../geometry/oracle.ts';
import { runs, SEED } from '../../../runs.ts';
import { quickInput, SAMPLES, sampleText } from '../quick.ts';

type Figures = Extract<HandFigures, { kind: 'figures' }>;

function figuresOf(edge: Loop, centres: Parameters<typeof handFigures>[0]['centres'], radius: number): Figures {
  const found = handFigures({ edge, side: 'outside', centres, radius, farther: 0.2 });
  if (found.kind !== 'figures') throw new Error(found.kind);
  return found;
}

function leverFigures(): Figures {
  const { job } = quickInput(sampleText('lifting-lever'));
  const place = job.places[0]!;
  return figuresOf(placeLoop(place, job.part.outline.loop), centresOf(job, job.part.outline, place), 1.5);
}

describe('two bosses of radius 6 and 4, 32 apart, cutter 3', () => {
  // Outer tangents of two circles lean by asin((R - r) / centre distance) to the line of centres (any book of geometry).
  const lean = (Math.asin(2 / 32) * 180) / Math.PI;
  const length = Math.sqrt(32 ** 2 - 2 ** 2);
  const { steps, centres, short } = leverFigures();

  it('gives two flanks and two arcs', () => {
    expect(steps.map((s) => s.kind)).toEqual(['flank', 'arc', 'flank', 'arc']);
    expect(centres.map((c) => c.at)).toEqual([
      { x: 22, y: 15 },
      { x: 54, y: 15 },
    ]);
    expect(short).toEqual([]);
  });

  it('sets each arc to boss plus cutter, from tangent to tangent', () => {
    const [far, near] = steps.filter((s) => s.kind === 'arc') as Extract<HandStep, { kind: 'arc' }>[];
    expect(far!.radius).toBeCloseTo(4 + 1.5, 9);
    expect(far!.rough).toBeCloseTo(4 + 1.5 + 0.2, 9);
    expect(near!.radius).toBeCloseTo(6 + 1.5, 9);
    // Boss 2 looks back at boss 1: its arc lies on the far side, boss 1's too.
    expect(far!.from).toBeCloseTo(90 + lean, 9);
    expect(far!.to).toBeCloseTo(270 - lean, 9);
    expect(near!.from).toBeCloseTo(90 - lean, 9);
    expect(near!.to).toBeCloseTo(270 + lean, 9);
  });

  it('lays each flank along X, the cutter in front', () => {
    const [first, second] = steps.filter((s) => s.kind === 'flank') as Extract<HandStep, { kind: 'flank' }>[];
    expect(first!.turn).toBeCloseTo(lean, 9);
    expect([first!.y, first!.rough]).toEqual([expect.closeTo(-7.5, 9), expect.closeTo(-7.7, 9)]);
    expect([first!.fromX, first!.toX]).toEqual([expect.closeTo(0, 9), expect.closeTo(length, 9)]);
    expect(second!.turn).toBeCloseTo(360 - lean, 9);
    expect(second!.y).toBeCloseTo(-5.5, 9);
  });
});

/** The work turned clockwise on the table, as seen from its centre: what the person would see. */
function turned(edge: Loop, s: HandStep, angle: number): Loop {
  const about = -((angle * Math.PI) / 180 + s.centre.reference.direction);
  const move = (p: Point): Point => rotate(sub(p, s.centre.at), about);
  return edge.map(
    (x): Segment =>
      x.kind === 'line'
        ? { ...x, a: move(x.a), b: move(x.b) }
        : { ...x, a: move(x.a), b: move(x.b), centre: move(x.centre) },
  );
}

/** Table angle and readout at a fraction of a step. */
function setting(s: HandStep, t: number): { angle: number; readout: Point } {
  if (s.kind === 'arc') return { angle: s.from + (s.to - s.from) * t, readout: { x: s.radius, y: 0 } };
  return { angle: s.turn, readout: { x: s.fromX + (s.toX - s.fromX) * t, y: s.y } };
}

describe.each(SAMPLES)('%s on the rotary table', (name) => {
  const input = quickInput(sampleText(name));
  const { job } = input;
  const finish = input.plan.setups.flatMap((s) => s.operations).findLast((o) => o.target.kind === 'outline')!;
  const radius = input.plan.cutters.find((c) => c.number === finish.cutter)!.diameter / 2;

  it('touches the turned edge with its rim, neither into it nor away, all along every piece of every copy', () => {
    let seen = 0;
    for (const place of job.places) {
      const edge = placeLoop(place, job.part.outline.loop);
      for (const s of figuresOf(edge, centresOf(job, job.part.outline, place), radius).steps) {
        for (const t of [0, 0.3, 0.7, 1]) {
          const { angle, readout } = setting(s, t);
          expect(distanceToLoop(turned(edge, s, angle), readout)).toBeCloseTo(radius, 6);
          expect(dist(placeFromFigures(s.centre, angle, readout), pointAt(s.path, t))).toBeLessThan(1e-6);
          seen++;
        }
        const rough = s.kind === 'arc' ? { x: s.rough, y: 0 } : { x: (s.fromX + s.toX) / 2, y: s.rough };
        const away = distanceToLoop(turned(edge, s, setting(s, 0.5).angle), rough);
        expect(away).toBeCloseTo(radius + 0.2, 6);
      }
    }
    expect(seen).toBeGreaterThan(15);
  });

  it('runs as long a way as the offset engine finds', () => {
    const edge = placeLoop(job.places[0]!, job.part.outline.loop);
    const found = cutterPath(edge, 'outside', radius);
    if (found.kind !== 'path') throw new Error(found.kind);
    expect(lengthOf(found.pieces.map((p) => p.path))).toBeCloseTo(offsetLength(edge, radius), 6);
  });

  it('keeps every tab its width: two discs stand that far apart', () => {
    for (const tab of input.holding.tabs) {
      const place = job.places[tab.part]!;
      const edge = placeLoop(place, job.part.outline.loop);
      const stretches = tabStretches(figuresOf(edge, centresOf(job, job.part.outline, place), radius), tab, radius);
      expect(stretches.length).toBeGreaterThan(0);
      expect(dist(stretches[0]!.a, stretches.at(-1)!.b) - 2 * radius).toBeCloseTo(tab.width, 6);
    }
  });
});

describe('the pockets of the rack arm on the rotary table', () => {
  const { job } = quickInput(sampleText('rack-arm'));

  it('are touched by the rim from inside, in both hands', () => {
    let seen = 0;
    for (const place of job.places) {
      for (const { outline } of job.part.pockets) {
        const edge = placeLoop(place, outline.loop);
        const centres = centresOf(job, outline, place);
        const found = handFigures({ edge, side: 'inside', centres, radius: 1, farther: 0.2 });
        if (found.kind !== 'figures') throw new Error(found.kind);
        for (const s of found.steps) {
          for (const t of [0, 0.5, 1]) {
            const { angle, readout } = setting(s, t);
            expect(distanceToLoop(turned(edge, s, angle), readout)).toBeCloseTo(1, 6);
            seen++;
          }
          // Roughing stands off the wall by the allowance.
          const rough = s.kind === 'arc' ? { x: s.rough, y: 0 } : { x: (s.fromX + s.toX) / 2, y: s.rough };
          expect(distanceToLoop(turned(edge, s, setting(s, 0.5).angle), rough)).toBeCloseTo(1.2, 6);
        }
      }
    }
    expect(seen).toBe(2 * 2 * 4 * 3);
  });
});

function lengthOf(segments: readonly Segment[]): number {
  return segments.reduce((sum, s) => sum + segmentLength(s), 0);
}

function offsetLength(edge: Loop, d: number): number {
  const out = offsetLoop(edge, d);
  if (out.kind !== 'regions') throw new Error(out.kind);
  return out.regions.reduce((sum, r) => sum + loopLength(r.outer), 0);
}

describe('the cutter path', () => {
  it('goes round outside corners and stops short in inside ones', () => {
    // An L of 20 by 20 with a 10 by 10 notch, cutter 4: five outside corners, one inside.
    const ell = must(
      fromVertices([
        [0, 0],
        [20, 0],
        [20, 10],
        [10, 10],
        [10, 20],
        [0, 20],
      ]),
    );
    const found = cutterPath(ell, 'outside', 2);
    if (found.kind !== 'path') throw new Error(found.kind);
    // Four sides 20 + 20 + 10 + 10 whole, two of 10 less a radius each, five quarter circles.
    expect(lengthOf(found.pieces.map((p) => p.path))).toBeCloseTo(60 + 2 * 8 + 5 * Math.PI, 9);
    expect(found.short).toEqual([2, 3]);
  });

  it('runs inside a pocket', () => {
    const found = cutterPath(must(circle({ x: 5, y: 5 }, 20)), 'inside', 3);
    if (found.kind !== 'path') throw new Error(found.kind);
    expect(lengthOf(found.pieces.map((p) => p.path))).toBeCloseTo(2 * Math.PI * 7, 9);
  });

  it('declines outlines that nobody turns by hand', () => {
    const n = MOST_PIECES + 1;
    const gon = must(
      fromVertices(
        Array.from(
          { length: n },
          (_, i) => [30 * Math.cos((2 * Math.PI * i) / n), 30 * Math.sin((2 * Math.PI * i) / n)] as const,
        ),
      ),
    );
    expect(cutterPath(gon, 'outside', 2)).toEqual({ kind: 'too many', count: n });
  });

  it('is what the offset engine finds, for bent levers of three bosses', () => {
    const size = fc.double({ min: 3, max: 8, noNaN: true });
    let seen = 0;
    fc.assert(
      fc.property(
        size,
        size,
        size,
        fc.double({ min: 0.5, max: 5.5, noNaN: true }),
        fc.double({ min: 0.5, max: 4, noNaN: true }),
        (a, b, c, bend, r) => {
          const bosses = [
            { at: { x: 0, y: 0 }, radius: a },
            { at: { x: 30, y: 0 }, radius: b },
            { at: { x: 30 + 25 * Math.cos(bend), y: 25 * Math.sin(bend) }, radius: c },
          ];
          const edge = bossesAndWebs({ bosses });
          if (!edge.ok) return;
          const found = cutterPath(edge.value, 'outside', r);
          if (found.kind !== 'path') throw new Error(found.kind);
          seen++;
          for (const { path } of found.pieces) {
            for (const t of [0, 0.5, 1])
              expect(Math.abs(distanceToLoop(edge.value, pointAt(path, t)) - r)).toBeLessThan(1e-5);
          }
          expect(lengthOf(found.pieces.map((p) => p.path))).toBeCloseTo(offsetLength(edge.value, r), 4);
        },
      ),
      { seed: SEED, numRuns: runs(500) },
    );
    expect(seen).toBeGreaterThan(10);
  });
});

describe('angles on paper', () => {
  it('are readings of a table, with the way through 0 said', () => {
    expect(turnText(323.13, 576.87)).toBe('323.13° through 0° to 216.87°');
    expect(turnText(510.27, 551.25)).toBe('150.27° to 191.25°');
    expect(turnText(0, -90)).toBe('360.00° to 270.00°');
    expect(turnText(30, -60)).toBe('30.00° through 0° to 300.00°');
    expect(turnText(270, 360)).toBe('270.00° to 360.00°');
  });
});

describe('a tab', () => {
  it('on a straight flank leaves waist plus cutter along X', () => {
    const figures = leverFigures();
    const flank = figures.steps.find((s) => s.kind === 'flank')!;
    const middle = pointAt(flank.path, 0.5);
    const n = { x: flank.path.b.y - flank.path.a.y, y: flank.path.a.x - flank.path.b.x };
    const l = Math.sqrt(n.x ** 2 + n.y ** 2);
    const tab: Tab = {
      ...{ part: 0, width: 2, height: 0.4, cutHeight: 0.8, footprint: 7 },
      at: { x: middle.x - (n.x / l) * 1.5, y: middle.y - (n.y / l) * 1.5 },
      directionDeg: (Math.atan2(n.y, n.x) * 180) / Math.PI,
    };
    const [only, ...rest] = tabStretches(figures, tab, 1.5);
    expect(rest).toEqual([]);
    expect(only!.to - only!.from).toBeCloseTo(2 + 3, 6);
    expect(only!.from + only!.to).toBeCloseTo(segmentLength(flank.path), 6);
  });
});

function must<T>(out: { ok: true; value: T } | { ok: false; problems: readonly unknown[] }): T {
  if (!out.ok) throw new Error(JSON.stringify(out.problems));
  return out.value;
}
