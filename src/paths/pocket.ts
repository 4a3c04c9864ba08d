/** Clearing areas: rings from the middle outwards at every depth, then the wall in one pass at full depth. */
import { fault, type Problem } from '../base/problem.ts';
import { short } from '../base/text.ts';
import type { Mm } from '../base/units.ts';
import { largestInscribed } from '../geometry/inscribed.ts';
import { RegionEdge } from '../geometry/measure/approach.ts';
import { loopLength, positionOf, reverseLoop } from '../geometry/measure/loop.ts';
import { dist, rot90, step } from '../geometry/measure/point.ts';
import { arc, curvatureOf, line, pointAt } from '../geometry/measure/segment.ts';
import type { Chain, Loop, Point, Region, Segment } from '../geometry/types.ts';
import type { Cutter } from '../part/part.ts';
import type { Operation } from '../plan/plan.ts';
import type { Emitter } from './emitter.ts';
import { arcFeedFactor } from './feed.ts';
import { type Feeds, followLoop, placeOn } from './follow.ts';
import { leadIn, leadOut } from './lead.ts';
import { comeDown } from './profile.ts';
import { type RingNode, ringTree, wallRings } from './rings.ts';
import { cutterOf, type Scene, slopeOf } from './scene.ts';

/** Helix entries: path radius as a share of the cutter's diameter (common practice: hole 1.2-1.9 D, so 0.1-0.45). */
const HELIX_SHARE = { least: 0.1, most: 0.4 } as const;
const OVERLAP: Mm = 0.8;

/** Inside an opening the cutter climbs counter-clockwise along the wall; loops come so from the offset. */
export function clearPocket(em: Emitter, scene: Scene, op: Operation, pocket: Region): readonly Problem[] {
  const cutter = cutterOf(scene, op);
  const r = cutter.diameter / 2;
  const edge = new RegionEdge(pocket);
  const job = new PocketJob(em, scene, op, cutter, edge);
  const tree = ringTree(pocket, r + op.allowance, op.widthOfCut, r);
  const slim = tree.length > 0 ? [] : wallRings(pocket, r);
  if (tree.length === 0 && slim.length === 0) return [noEntry(pocket, cutter)];
  let top = op.from;
  for (const depth of op.depths) {
    for (const node of tree) job.clear(node, top, depth);
    for (const area of slim) job.slot(area, top, depth);
    top = depth;
  }
  if (op.allowance > 0 && slim.length === 0) job.finishWalls(wallRings(pocket, r));
  return [];
}

class PocketJob {
  private readonly em: Emitter;
  private readonly scene: Scene;
  private readonly op: Operation;
  private readonly cutter: Cutter;
  private readonly edge: RegionEdge;
  private readonly feeds: Feeds;

  constructor(em: Emitter, scene: Scene, op: Operation, cutter: Cutter, edge: RegionEdge) {
    this.em = em;
    this.scene = scene;
    this.op = op;
    this.cutter = cutter;
    this.edge = edge;
    const workOn = scene.plan.climb ? 'right' : 'left';
    this.feeds = {
      cut: op.feed,
      ramp: op.rampFeed,
      factor: (p) => arcFeedFactor(p, cutter.diameter / 2, op.feedCap, workOn),
    };
  }

  /** Innermost areas first; each is entered on its own, and the ring round them joins what they opened. */
  clear(node: RingNode, top: Mm, depth: Mm): void {
    for (const inner of node.inner) this.clear(inner, top, depth);
    const lastInside = node.inner.length === 1 && this.em.here.z !== undefined && this.em.here.z <= depth + 1e-9;
    const loops = this.loopsOf(node.area);
    loops.forEach((loop, i) => {
      const joined = (i > 0 || lastInside) && this.link(loop, depth);
      if (!joined) this.enter(node, loop, top, depth, i === 0 && node.inner.length === 0);
      this.round(loop, depth);
    });
  }

  /** An area with no room beside the path: down a ramp along it, then once round level. */
  slot(area: Region, top: Mm, depth: Mm): void {
    for (const loop of this.loopsOf(area)) {
      this.rampDown(loop, 0, top, depth);
      this.round(loop, depth);
    }
  }

  finishWalls(areas: readonly Region[]): void {
    for (const area of areas) {
      for (const loop of this.loopsOf(area)) this.finishWall(loop);
    }
  }

  private loopsOf(area: Region): readonly Loop[] {
    return this.scene.plan.climb ? [area.outer, ...area.holes] : [area.outer, ...area.holes].map(reverseLoop);
  }

  private round(loop: Loop, depth: Mm): void {
    const here = this.here();
    const s = positionOf(loop, here)!.s;
    followLoop(this.em, loop, s, loopLength(loop), [{ s: 0, z: depth }], this.feeds);
  }

  /** By helix where there is room in the open, else by a ramp along the ring. */
  private enter(node: RingNode, loop: Loop, top: Mm, depth: Mm, innermost: boolean): void {
    const circle = innermost ? largestInscribed(node.area, 0.01) : { kind: 'none' as const };
    const radius = circle.kind === 'circle' ? Math.min(circle.radius, HELIX_SHARE.most * this.cutter.diameter) : 0;
    if (circle.kind !== 'circle' || radius < HELIX_SHARE.least * this.cutter.diameter) {
      return this.rampDown(loop, 0, top, depth);
    }
    this.helix(circle.centre, radius, top, depth);
    const to = positionOf(loop, this.here())!;
    this.em.feedTo(to.point, depth, this.op.rampFeed);
  }

  private helix(centre: Point, radius: Mm, top: Mm, depth: Mm): void {
    const sense = this.scene.plan.climb ? 1 : -1;
    const pitch = 2 * Math.PI * radius * slopeOf(this.op.rampDeg);
    const turns = Math.max(1, Math.ceil((top - depth) / pitch));
    comeDown(this.em, this.scene, { x: centre.x + radius, y: centre.y }, top, this.op.rampFeed);
    for (let i = 1; i <= turns; i++)
      this.halfTurns(centre, radius, sense, top + ((depth - top) * i) / turns, this.op.rampFeed);
    this.halfTurns(centre, radius, sense, depth, this.op.feed);
  }

  private halfTurns(centre: Point, radius: Mm, sense: 1 | -1, z: Mm, feed: number): void {
    const from = this.em.here.z!;
    this.em.along(arc(centre, radius, 0, sense * Math.PI), (from + z) / 2, feed);
    this.em.along(arc(centre, radius, Math.PI, sense * Math.PI), z, feed);
  }

  /** Round and round the ring, going down all the way. */
  private rampDown(loop: Loop, start: Mm, top: Mm, depth: Mm): void {
    const length = (top - depth) / slopeOf(this.op.rampDeg);
    comeDown(this.em, this.scene, placeOn(loop, start).point, top, this.op.rampFeed);
    const slope = [
      { s: 0, z: top },
      { s: length, z: depth },
    ];
    followLoop(this.em, loop, start, length, slope, this.feeds);
  }

  /** From the ring just cut to the next one out: a tangent arc where it stays clear of the walls, else straight. */
  private link(loop: Loop, depth: Mm): boolean {
    const here = this.here();
    const near = positionOf(loop, here)!;
    const gap = near.distance;
    if (gap > this.op.widthOfCut * 1.6) return false;
    const side = this.scene.plan.climb ? 1 : -1;
    const radius = Math.max(this.cutter.diameter / 2, gap);
    const ahead = Math.sqrt(Math.max(0, 2 * radius * gap - gap * gap));
    const on = placeOn(loop, near.s + ahead);
    const curve = leadIn(on.point, on.direction, side, gap, radius);
    const toCurve: Chain = curve.length > 0 ? [line(here, curve[0]!.a), ...curve] : [line(here, near.point)];
    const chosen = this.isClear(toCurve) ? toCurve : [line(here, near.point)];
    if (!this.isClear(chosen)) return false;
    this.em.chain(chosen, depth, this.op.feed);
    return true;
  }

  private isClear(chain: Chain): boolean {
    const clear = this.cutter.diameter / 2 + this.op.allowance - 1e-4;
    return chain.every((s) => dist(s.a, s.b) < 1e-9 || this.staysInside(s, clear));
  }

  /** Every point of the segment lies at least `clear` inside the pocket. */
  private staysInside(s: Chain[number], clear: Mm): boolean {
    return this.edge.holds(pointAt(s, 0.5)) && this.edge.index.gap(s).distance >= clear;
  }

  /** Once round at each depth, on and off by arcs that keep clear of every wall; without room for them, in along a ramp. */
  private finishWall(loop: Loop): void {
    const { em, scene, op } = this;
    const length = loopLength(loop);
    const ways = this.waysOn(loop);
    let top = op.from;
    for (const depth of op.finishDepths) {
      if (ways) {
        comeDown(em, scene, ways.start, depth, op.rampFeed);
        // The lead bends tighter than the wall, so the teeth run faster along the work than along the wall itself.
        for (const s of ways.on) em.along(s, depth, op.finishFeed * this.feeds.factor(s));
        const feeds = { ...this.feeds, cut: op.finishFeed };
        followLoop(em, loop, ways.s, length + OVERLAP, [{ s: 0, z: depth }], feeds);
        em.chain(ways.off, depth, op.finishFeed);
      } else {
        this.rampDown(loop, 0, top, depth);
        this.round(loop, depth);
      }
      em.rapidZ(scene.heights.retract);
      top = depth;
    }
  }

  /** Leads begin on the last roughing ring, where the way down is open. */
  private waysOn(loop: Loop): { s: Mm; start: Point; on: Chain; off: Chain } | null {
    const side = this.scene.plan.climb ? 1 : -1;
    const { allowance } = this.op;
    const r = this.cutter.diameter / 2;
    for (const radius of [r, r / 2, allowance]) {
      for (const share of [0.5, 0.25, 0.75, 0]) {
        const s = share * loopLength(loop);
        const into = placeOn(loop, s);
        const out = placeOn(loop, s + OVERLAP);
        if (radius > Math.max(allowance, LEAD_IN_CURVE * insideRadius(loop[into.index]!, side))) continue;
        const on = leadIn(into.point, into.direction, side, allowance, radius);
        const off = leadOut(out.point, out.direction, side, allowance, radius);
        if (![...on, ...off].every((x) => this.staysInside(x, r - 1e-5))) continue;
        return { s, start: on[0]?.a ?? step(into.point, rot90(into.direction), side * allowance), on, off };
      }
    }
    return null;
  }

  private here(): Point {
    const { x, y } = this.em.here;
    return { x: x!, y: y! };
  }
}

/** A lead inside a curve bends this much tighter than the curve at least: else it would hardly leave it. */
const LEAD_IN_CURVE = 0.6;

/** Radius of a piece of path that bends to the open side; Infinity for lines and curves the other way. */
function insideRadius(piece: Segment, side: 1 | -1): Mm {
  const bend = curvatureOf(piece) * side;
  return bend > 0 ? 1 / bend : Number.POSITIVE_INFINITY;
}

function noEntry(pocket: Region, cutter: Cutter): Problem {
  const circle = largestInscribed(pocket, 0.01);
  const room = circle.kind === 'circle' ? 2 * circle.radius : 0;
  const at = circle.kind === 'circle' ? ([circle.centre.x, circle.centre.y] as const) : undefined;
  return fault(
    'cutter-too-wide',
    `a ${short(cutter.diameter)} mm cutter does not enter an opening at most ${short(room)} mm wide`,
    `a flat-ended cutter of at most ${short(room)} mm`,
    'add a smaller cutter to the drawer, or widen the opening',
    at ? { at } : {},
  );
}
