/** The samples of tests/mechanics/reference as plans of the elastic model, from the geometry that the reference program meshed. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import clipper from 'clipper-lib';
import type { ElasticRequest } from '../../../src/mechanics/elastic/elastic.ts';
import type { PressedPlace } from '../../../src/mechanics/elastic/held.ts';
import type { MeshLine, PlanPoint } from '../../../src/mechanics/elastic/mesh/lines.ts';
import { FRAME, PART, SLOT } from '../../../src/mechanics/elastic/regions.ts';
import { box, circle, inside, polygon } from './shapes.ts';

type Curve =
  | { arc: { centre: PlanPoint; radius: number; hollow: boolean; fromAngle: number; turn: number } }
  | { line: [PlanPoint, PlanPoint] };
interface Grid {
  readonly height: readonly (readonly number[])[];
  readonly along: readonly number[];
  readonly across: readonly number[];
}
export interface Geometry {
  readonly thickness: number;
  readonly stock: readonly [PlanPoint, PlanPoint];
  readonly clamps: readonly [PlanPoint, PlanPoint][];
  readonly material: { readonly E: number; readonly nu: number; readonly density: number };
  readonly slotWidth: number;
  readonly middle: number;
  /** Where a pass of the cutter itself ends, and a ledge may stand. */
  readonly cutterRadius: number;
  readonly parts: readonly { readonly loop: readonly Curve[]; readonly length: number }[];
  readonly hollows: readonly { leaves: number; centre?: PlanPoint; radius?: number; loop?: readonly Curve[] }[];
  readonly tabs: readonly {
    part: number;
    s: number;
    at: PlanPoint;
    normal: PlanPoint;
    width: number;
    cut?: Grid;
    final?: Grid;
  }[];
}
export interface Figures {
  readonly frequenciesHz: readonly number[];
  readonly places: readonly {
    part: number;
    at: PlanPoint;
    normal: PlanPoint;
    tangent: PlanPoint;
    compliance: number[][];
  }[];
}

export function read<T>(name: string): T {
  return JSON.parse(readFileSync(join(import.meta.dirname, '../reference/fixtures', `${name}.json`), 'utf8')) as T;
}

/** Chords of 6 degrees at most. */
function loopOf(curves: readonly Curve[]): MeshLine {
  const points = curves.flatMap((c): PlanPoint[] => {
    if ('line' in c) return [c.line[0]];
    const { centre, radius, hollow, fromAngle, turn } = c.arc;
    const n = Math.ceil(Math.abs(turn) / 0.1);
    return Array.from({ length: n }, (_, i): PlanPoint => {
      // Angles are those of the outward normal, which points at the centre of a hollow arc.
      const a = fromAngle + (turn * i) / n + (hollow ? Math.PI : 0);
      return [centre[0] + radius * Math.cos(a), centre[1] + radius * Math.sin(a)];
    });
  });
  return polygon(...points);
}

const SCALE = 1e5;
/** Round every line by a distance, those that meet made one. */
function outsets(lines: readonly MeshLine[], by: number): MeshLine[] {
  const offset = new clipper.ClipperOffset(2, 0.004 * SCALE);
  for (const { points } of lines)
    offset.AddPath(
      points.map(([X, Y]) => ({ X: X * SCALE, Y: Y * SCALE })),
      clipper.JoinType.jtRound,
      clipper.EndType.etClosedPolygon,
    );
  const out: { X: number; Y: number }[][] = [];
  offset.Execute(out, by * SCALE);
  return out.map((path) => polygon(...path.map(({ X, Y }): PlanPoint => [X / SCALE, Y / SCALE])));
}

/** Length along a loop and distance from it. */
function onLoop({ points }: MeshLine, x: number, y: number): readonly [s: number, off: number] {
  let [run, s, off] = [0, 0, Number.POSITIVE_INFINITY];
  points.forEach(([ax, ay], i) => {
    const [bx, by] = points[(i + 1) % points.length]!;
    const length = Math.hypot(bx - ax, by - ay);
    const share = Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length ** 2));
    const d = Math.hypot(x - ax - share * (bx - ax), y - ay - share * (by - ay));
    if (d < off) [s, off] = [run + share * length, d];
    run += length;
  });
  return [s, off];
}

function bilinear({ height, along, across }: Grid, s: number, d: number): number {
  if (s < along[0]! || s > along.at(-1)!) return 0;
  const find = (axis: readonly number[], v: number) => {
    const held = Math.max(axis[0]!, Math.min(axis.at(-1)!, v));
    let i = 0;
    while (i < axis.length - 2 && axis[i + 1]! < held) i++;
    return [i, (held - axis[i]!) / (axis[i + 1]! - axis[i]!)] as const;
  };
  const [i, f] = find(along, s);
  const [j, g] = find(across, d);
  const row = (k: number) => height[k]![i]! * (1 - f) + height[k]![i + 1]! * f;
  return row(j) * (1 - g) + row(j + 1) * g;
}

/** Along each tab, where thinning by a cutter leaves a ledge in a slot that was widened. */
function ledges(g: Geometry, parts: readonly MeshLine[]): MeshLine[] {
  const thinned = g.tabs.filter(({ cut, final }) => cut !== undefined && final !== undefined);
  return thinned.map(({ part, s: middle, final, cut }) => {
    const wall = outsets([parts[part]!], 2 * g.cutterRadius)[0]!;
    const reach = (final ?? cut)!.along.at(-1)! - 0.5;
    const total = g.parts[part]!.length;
    // A straight side has no points of its own between its ends.
    const fine = dense(wall).flatMap((p) => {
      const [s] = onLoop(parts[part]!, ...p);
      const along = ((((s - middle) % total) + 1.5 * total) % total) - total / 2;
      return Math.abs(along) < reach ? [{ p, along }] : [];
    });
    const points = fine.sort((a, b) => a.along - b.along).map(({ p }) => p);
    return { closed: false, points };
  });
}

function dense({ points }: MeshLine): PlanPoint[] {
  return points.flatMap(([ax, ay], i) => {
    const [bx, by] = points[(i + 1) % points.length]!;
    const n = Math.ceil(Math.hypot(bx - ax, by - ay) / 0.25);
    return Array.from({ length: n }, (_, k): PlanPoint => [ax + ((bx - ax) * k) / n, ay + ((by - ay) * k) / n]);
  });
}

export interface MeshChoice {
  readonly fine: number;
  readonly grade: number;
  readonly coarse: number;
  /** At the part's edge, where loads of 1 mm act. */
  readonly edge: number;
  readonly margin?: number;
}

/** States as forms of each tab: index 0 the first that is named. */
export function requestOf(g: Geometry, states: readonly ('cut' | 'final')[], choice: MeshChoice): ElasticRequest {
  const stock = box(...g.stock[0], ...g.stock[1]);
  const parts = g.parts.map((p) => loopOf(p.loop));
  const slots = outsets(parts, g.slotWidth);
  const hollows = g.hollows.map((h) => ({
    leaves: h.leaves,
    line: h.loop === undefined ? circle(...h.centre!, h.radius!, 72) : loopOf(h.loop),
  }));
  const clamps = g.clamps.map(([a, b]) => box(...a, ...b));
  const within = (x: number, y: number) => hollows.find(({ line }) => inside(line, x, y));
  const regionAt = (x: number, y: number) => {
    if (!inside(stock, x, y) || within(x, y)?.leaves === 0) return -1;
    if (parts.some((p) => inside(p, x, y))) return PART;
    // Where two slots meet, an island of the frame may stand between.
    return slots.filter((p) => inside(p, x, y)).length % 2 === 1 ? SLOT : FRAME;
  };
  const tabs = g.tabs.map((tab) => {
    const loop = parts[tab.part]!;
    const total = g.parts[tab.part]!.length;
    const forms = states.map((state) => (x: number, y: number) => {
      const [s, d] = onLoop(loop, x, y);
      const along = ((((s - tab.s) % total) + 1.5 * total) % total) - total / 2;
      return bilinear(tab[state]!, along, d);
    });
    const at: PlanPoint = [tab.at[0] + tab.normal[0] * g.middle, tab.at[1] + tab.normal[1] * g.middle];
    return { at, reach: Math.hypot(g.slotWidth / 2, tab[states[0]!]!.along.at(-1)!) + 0.3, forms, half: tab.width };
  });
  const size = (x: number, y: number) =>
    tabs.reduce(
      (m, t) => {
        const d = Math.hypot(x - t.at[0], y - t.at[1]) - t.half;
        return Math.min(m, choice.fine + choice.grade * Math.max(0, d));
      },
      Math.min(choice.coarse, choice.edge + choice.grade * Math.min(...parts.map((p) => onLoop(p, x, y)[1]))),
    );
  return {
    plan: {
      lines: [stock, ...clamps, ...parts, ...slots, ...ledges(g, parts), ...hollows.map((h) => h.line)],
      regionAt,
      size,
    },
    thickness: g.thickness,
    metal: { modulus: g.material.E, poisson: g.material.nu, density: g.material.density * 1e12 },
    topAt: (x, y) => within(x, y)?.leaves ?? g.thickness,
    springs: [0, g.thickness].map((height) => ({
      regions: [FRAME],
      covers: (x: number, y: number) => clamps.some((c) => inside(c, x, y)),
      perArea: [1e6, 1e6, 1e6] as const,
      height,
    })),
    tabs,
    ...(choice.margin !== undefined && { margin: choice.margin }),
  };
}

/** The reference spreads a load over 1 mm of edge and the whole thickness. */
export function pressedPlaces(figures: Figures, thickness: number): PressedPlace[] {
  return figures.places.map(({ at, tangent }) => ({
    x: at[0],
    y: at[1],
    z: thickness / 2,
    region: PART,
    spread: [tangent[0] / 2, tangent[1] / 2],
    upward: thickness / 2,
  }));
}
