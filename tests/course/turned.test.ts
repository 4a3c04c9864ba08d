/** What the course promises of a whole program: where it lies on the table changes nothing, and tabs are thinned as reckoned. */
import { describe, expect, it } from 'vitest';
import { courseOf } from '../../src/course/course-of.ts';
import { strokesOf } from '../../src/course/strokes.ts';
import { positionOf } from '../../src/geometry/measure/loop.ts';
import { unplacePoint } from '../../src/geometry/measure/transform.ts';
import type { Point } from '../../src/geometry/types.ts';
import { netOf } from '../../src/hold/evaluate/decide.ts';
import { evaluate, modesOf } from '../../src/hold/evaluate/evaluate.ts';
import { edgePlace } from '../../src/hold/scene/edge.ts';
import type { StockNet } from '../../src/hold/scene/net.ts';
import { holdScene } from '../../src/hold/scene/scene.ts';
import { type HoldWay, NO_WAY } from '../../src/hold/way.ts';
import { Workspace } from '../../src/mechanics/held/held-state.ts';
import { weakestOnTab } from '../../src/mechanics/held/on-tab.ts';
import { nodeCompliance } from '../../src/mechanics/plate/plate.ts';
import type { Move, Moves } from '../../src/paths/moves.ts';
import { mustMake } from '../helpers.ts';
import { inputOf, lever } from '../hold/scenes.ts';
import { random, runs, SEED } from '../runs.ts';

const MADE = mustMake(lever({ hold: { by: 'tabs', tabs: { count: 3, width: 2.5, height: 1.2, lightenTo: 0.6 } } }));
const NET = (() => {
  const found = netOf(holdScene(inputOf(MADE.job, MADE.plan)));
  if (found.kind !== 'net') throw new Error('no frame');
  return found.net;
})();
const WAY: HoldWay = {
  ...NO_WAY,
  by: 'tabs',
  tabs: {
    width: MADE.holding.tabs[0]!.width,
    cutHeight: MADE.holding.tabs[0]!.cutHeight,
    height: MADE.holding.tabs[0]!.height,
    places: MADE.holding.tabs.map((t) => {
      const { loop } = MADE.job.part.outline;
      return edgePlace(MADE.job, positionOf(loop, unplacePoint(MADE.job.places[0]!, t.at))!.s);
    }),
  },
};

/** Turned about the origin, then moved. */
class Turn {
  readonly angle: number;
  readonly by: Point;
  constructor(angle: number, by: Point) {
    this.angle = angle;
    this.by = by;
  }

  point({ x, y }: Point): Point {
    const [c, s] = [Math.cos(this.angle), Math.sin(this.angle)];
    return { x: c * x - s * y + this.by.x, y: s * x + c * y + this.by.y };
  }

  back({ x, y }: Point): Point {
    const [c, s] = [Math.cos(this.angle), Math.sin(this.angle)];
    const [u, v] = [x - this.by.x, y - this.by.y];
    return { x: c * u + s * v, y: c * v - s * u };
  }

  /** The frame's beams themselves turned, and solved again. */
  net(): StockNet {
    const nodes = NET.frame.nodes.map(([x, y, z]) => {
      const p = this.point({ x, y });
      return [p.x, p.y, z] as const;
    });
    const frame = { ...NET.frame, nodes };
    const solved = nodeCompliance(frame, NET.compliance.nodes);
    if (solved.kind !== 'compliance') throw new Error('no give');
    const root = (p: Point) => {
      const found = NET.root(this.back(p));
      return found && { index: found.index, at: nodes[NET.compliance.nodes[found.index]!]! };
    };
    return { frame, compliance: solved.compliance, root, assumedClamps: false };
  }

  moves(): Moves {
    // Every move names both axes, so that each can be turned by itself.
    const programs = MADE.moves.programs.map((program) => {
      let at: Point | null = null;
      const moves = program.moves.map((m): Move => {
        switch (m.kind) {
          case 'rapid':
          case 'feed': {
            if (m.x === undefined && m.y === undefined) return m;
            const to: Point = { x: m.x ?? at!.x, y: m.y ?? at!.y };
            at = to;
            return { ...m, ...this.point(to) };
          }
          case 'arc':
            at = { x: m.x, y: m.y };
            return { ...m, ...this.point(m), centre: this.point(m.centre) };
          case 'cycle':
            at = m.places.at(-1)!;
            return { ...m, places: m.places.map((p) => this.point(p)) };
          default:
            return m;
        }
      });
      return { ...program, moves };
    });
    return { ...MADE.moves, programs };
  }

  course() {
    const place = MADE.job.places[0]!;
    const job = { ...MADE.job, places: [{ ...place, at: this.point(place.at), turn: place.turn + this.angle }] };
    const scene = holdScene(inputOf(job, MADE.plan));
    const reckoned = evaluate(scene, this.net(), WAY);
    const modes = modesOf(scene, this.net(), WAY);
    if (reckoned.kind !== 'evaluated') throw new Error('loose');
    return courseOf({
      job,
      plan: MADE.plan,
      holding: { ...MADE.holding, evaluation: { ...reckoned.evaluation, modes } },
      moves: this.moves(),
      programs: MADE.programs,
    });
  }
}

describe('laws', () => {
  it('job, plate, clamps, tabs and path turned by any angle and moved: the same at every block', () => {
    const r = random(SEED);
    const still = new Turn(0, { x: 0, y: 0 }).course();
    expect(still.margin!.least).toBeCloseTo(MADE.course.margin!.least, 9);
    let blocks = 0;
    for (let k = 0; k < runs(20); k++) {
      const turned = new Turn(2 * Math.PI * r(), { x: 200 * (r() - 0.5), y: 200 * (r() - 0.5) }).course();
      turned.programs.forEach((program, p) => {
        program.blocks.forEach((b, i) => {
          const before = still.programs[p]!.blocks[i]!;
          expect(b.block).toBe(before.block);
          if (before.margin === null) return expect(b.margin).toBeNull();
          // Rapids from a start or stop come from the table's own 0,0, which is not turned: only cuts last as long.
          expect(b.seconds).toBeCloseTo(before.seconds, 6);
          expect(b.margin! / before.margin, `block ${b.block}`).toBeCloseTo(1, 6);
          expect(b.movement! / before.movement!, `block ${b.block}`).toBeCloseTo(1, 6);
          blocks++;
        });
      });
      turned.modes.forEach((m, i) => expect(m / still.modes[i]!).toBeCloseTo(1, 6));
    }
    expect(blocks).toBeGreaterThan(100);
  });
});

describe('thinning', () => {
  it('runs from tab to tab as reckoned: each block has the margin of its tab with just those before it thinned', () => {
    const op = MADE.plan.setups[0]!.operations.find((o) => o.what === 'lighten')!;
    const { parts, moments, slotWidth } = MADE.holding.evaluation;
    const { tabSpots, states } = parts[0]!;
    const blocks = new Map(MADE.course.programs[0]!.blocks.map((b) => [b.block, b]));
    const order: number[] = [];
    let seen = 0;
    for (const s of strokesOf(MADE.moves.programs[0]!, MADE.programs[0]!, MADE.job.machine)) {
      const low = Math.min(s.from.z, s.to.z) < -MADE.job.part.thickness + WAY.tabs!.cutHeight - 1e-6;
      if (s.operation !== op.id || s.rapid || !low) continue;
      const middle = { x: (s.from.x + s.to.x) / 2, y: (s.from.y + s.to.y) / 2 };
      const far = tabSpots.map((t) => Math.hypot(t.x - middle.x, t.y - middle.y));
      const tab = far.indexOf(Math.min(...far));
      if (order.at(-1) !== tab) order.push(tab);
      const block = blocks.get(s.block)!;
      if (block.margin === null) continue;
      const moment = moments.find((m) => m.kind === 'lightening' && m.pass === tab)!;
      // One more tab is thin than before: the one under the cutter.
      expect(states[moment.state]!.name).toContain(`${tab + 1} of its tabs thinned`);
      const push = { spot: tabSpots[tab]!, z: moment.z, forces: moment.forces };
      const thin = { index: tab, length: slotWidth };
      const weak = weakestOnTab(new Workspace(), states[moment.state]!.held, thin, push, moment.wanted.margin);
      expect(block.margin).toBeCloseTo(weak.margin, 9);
      seen++;
    }
    expect(seen).toBeGreaterThanOrEqual(tabSpots.length);
    // Every tab is done with before the next is touched, in the order of the reckoning.
    expect(order).toEqual(tabSpots.map((_, i) => i));
  });
});
