/**
 * No stroke cuts into the wanted part: for every stroke the exact distance of its path from the part's edges, holes and
 * pockets, with the cutter's true outline at every height. Ramps are split until their height is as good as constant.
 */
import type { Mm } from '../../base/units.ts';
import { maxDistanceFromPoint, pointAt, segmentBox, subSegment } from '../../geometry/measure/segment.ts';
import type { Box, Segment } from '../../geometry/types.ts';
import type { CutterShape } from '../../stock/shape.ts';
import { LIMITS, RAMP_STEP, ROUNDING } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import type { Stroke, Tool } from '../strokes/stroke.ts';
import { lackInside, lackOutside, near } from '../wanted/clear.ts';
import { excess, type HoleSpace } from '../wanted/opening.ts';
import type { WantedPart, WantedParts, WantedPocket } from '../wanted/wanted.ts';

export function checkGouge(strokes: Iterable<Stroke>, wanted: WantedParts, out: Findings): void {
  const gauge = new Gauge(wanted);
  for (const s of strokes) {
    if (s.low >= -LIMITS.gouge) continue;
    for (const part of wanted.parts) {
      const hit = gauge.hit(s, part);
      if (hit !== undefined) tell(s, s.rapid ? 'a rapid' : `cutter ${s.tool.number}`, part, hit, out);
    }
    judgeUpper(s, gauge, wanted, out);
  }
  out.prove(
    'gouge',
    0.001,
    'safe',
    'every stroke stays outside the wanted part within 0.005 mm, by exact distances to its circles and tangents; a disc must lie outside the edge or inside one opening, so a cut that is good only by two openings together would be refused',
  );
}

/** Shank and holder go by the same distances as the cutter itself. */
function judgeUpper(s: Stroke, gauge: Gauge, wanted: WantedParts, out: Findings): void {
  const { whole, wide } = s.tool;
  const lowest = wide[0];
  if (whole === null || lowest === undefined || s.low + lowest.from >= -LIMITS.gouge) return;
  const tool = { ...s.tool, shape: whole };
  for (const part of wanted.parts) {
    if (gauge.hit(s, part) !== undefined) continue;
    const hit = gauge.hit({ ...s, tool }, part);
    if (hit !== undefined) tell(s, `the ${lowest.name} of cutter ${s.tool.number}`, part, hit, out);
  }
}

/** `what`: that which cuts. */
function tell(s: Stroke, what: string, part: WantedPart, hit: Hit, out: Findings): void {
  const p = pointAt(hit.path, 0.5);
  out.fault({
    code: 'gouge',
    at: { program: s.program, block: s.block, at: [p.x, p.y, hit.z] },
    size: hit.size,
    found: `${what} cuts ${hit.size.toFixed(3)} mm into part ${part.index + 1} at z ${hit.z.toFixed(3)}`,
    wanted: `no deeper than ${LIMITS.gouge} mm`,
    remedy: 'move the path away from the part or use the cutter it was reckoned for',
  });
}

export interface Hit {
  readonly size: Mm;
  readonly z: Mm;
  readonly path: Segment;
}

/** A stroke, or a stretch of one, without its heights. */
interface SweptPath {
  readonly tool: Tool;
  readonly path: Segment;
  readonly box: Box;
}

/** Heights kept for a cutter. */
const MOST_NEEDS = 10_000;

/** Measures strokes against parts; keeps what it has worked out for each cutter and height. */
export class Gauge {
  private readonly wanted: WantedParts;
  private readonly needs = new Map<CutterShape, Map<Mm, Mm>>();

  constructor(wanted: WantedParts) {
    this.wanted = wanted;
  }

  hit(s: Stroke, part: WantedPart): Hit | undefined {
    if (!near(part.edge.box, s.box, s.tool.shape.radius)) return undefined;
    return this.search(part, { tool: s.tool, path: s.path, box: s.box }, s.za, s.zb);
  }

  private search(part: WantedPart, pass: SweptPath, za: Mm, zb: Mm): Hit | undefined {
    const { path } = pass;
    const z = Math.min(za, zb);
    if (z >= -LIMITS.gouge || this.lack(part, pass, z) <= LIMITS.gouge) return undefined;
    if (Math.abs(za - zb) <= RAMP_STEP || (path.kind === 'line' && path.a.x === path.b.x && path.a.y === path.b.y)) {
      return { size: this.size(part, pass, z), z, path };
    }
    const zm = (za + zb) / 2;
    const look = (from: 0 | 0.5, a: Mm, b: Mm) => {
      const half = subSegment(path, from, from + 0.5);
      return this.search(part, { tool: pass.tool, path: half, box: segmentBox(half) }, a, b);
    };
    return za < zb ? (look(0, za, zm) ?? look(0.5, zm, zb)) : (look(0.5, zm, zb) ?? look(0, za, zm));
  }

  /** The smaller of what is cut sideways and how far the cutter would have to be raised. */
  private size(part: WantedPart, pass: SweptPath, z: Mm): Mm {
    let low = 0;
    let high = -z;
    while (high - low > 1e-4) {
      const lift = (low + high) / 2;
      if (this.lack(part, pass, z + lift) <= ROUNDING) high = lift;
      else low = lift;
    }
    return Math.min(this.lack(part, pass, z), high);
  }

  /** What is missing for the cutter to be clear, in the kindest of its places: outside, in a hole, in a pocket. */
  private lack(part: WantedPart, pass: SweptPath, z: Mm): Mm {
    if (z >= 0) return 0;
    const { tool, path, box } = pass;
    let least = lackOutside(part.edge, path, box, this.need(tool.shape, z));
    for (const hole of part.holes) {
      if (least <= 0) return least;
      least = Math.min(least, this.lackInHole(tool, hole, path, z));
    }
    for (const pocket of part.pockets) {
      if (least <= 0) return least;
      least = Math.min(least, lackInPocket(pocket, pass, z));
    }
    return least;
  }

  private lackInHole(tool: Tool, space: HoleSpace, path: Segment, z: Mm): Mm {
    const off = maxDistanceFromPoint(path, space.at);
    const widest = Math.max(space.allowed(0), space.hole.diameter / 2);
    if (off > widest + LIMITS.gouge) return Infinity;
    const { make } = space.hole;
    // A tap cuts its thread into the wall of the tapping hole, and only that.
    const threads =
      tool.cutter.kind === 'tap' && make.kind === 'tap' && tool.cutter.diameter <= make.major + 2 * LIMITS.gouge;
    const shape = threads ? withinThread(tool, space.hole.diameter / 2) : tool.shape;
    return off + excess(space, { ...tool, shape }, z, this.wanted.thickness);
  }

  /** Clearance that the axis needs outside the part's edge with the tip at z: the top chamfer gives way. */
  need(shape: CutterShape, z: Mm): Mm {
    const known = this.needs.get(shape) ?? new Map<Mm, Mm>();
    // Ramps come by at any height.
    if (known.size > MOST_NEEDS) known.clear();
    this.needs.set(shape, known);
    const need = known.get(z) ?? needOutside(shape, z, this.wanted.thickness, this.wanted.chamfer);
    known.set(z, need);
    return need;
  }
}

/** Only what is wider than the thread, a shank, is more than its hole. */
function withinThread(tool: Tool, radius: Mm): CutterShape {
  const thread = tool.cutter.diameter / 2 + ROUNDING;
  const at = (u: Mm) => (tool.shape.at(u) > thread ? tool.shape.at(u) : radius);
  return { ...tool.shape, radius, at };
}

/** Largest of radius less chamfer over the heights of the wall; may be negative for a cone in the chamfer. */
export function needOutside(shape: CutterShape, z: Mm, thickness: Mm, chamfer: Mm): Mm {
  const low = Math.max(z, -thickness);
  let most = -Infinity;
  for (const h of [low, 0, -chamfer, ...shape.breaks.map((u) => z + u)]) {
    if (h < low || h > 0) continue;
    most = Math.max(most, shape.at(h - z) - Math.max(0, chamfer + h));
  }
  return most;
}

function lackInPocket(pocket: WantedPocket, { tool, path, box }: SweptPath, z: Mm): Mm {
  if (!pocket.through && z < pocket.bottom - LIMITS.depth) return Infinity;
  const need = tool.shape.at(-z);
  const { open } = pocket;
  let most = open === null ? lackInside(pocket.outer, path, box, need) : lackOutside(open.solid, path, box, need);
  for (const island of pocket.islands) most = Math.max(most, lackOutside(island, path, box, need));
  return most;
}
