import { loopBox, reverseLoop } from '../../src/geometry/measure/loop.ts';
import { circle, fromVertices, type OutlineVertex } from '../../src/geometry/shapes.ts';
import type { Loop, Region } from '../../src/geometry/types.ts';
import { validateLoop } from '../../src/geometry/validate.ts';
import { signedDistance } from './oracle.ts';

export type Random = () => number;

/** A random area of one of five kinds, with up to three round openings; simple and sound by `validateLoop`. */
export function randomRegion(r: Random): Region {
  for (let tries = 0; tries < 200; tries++) {
    const kind = KINDS[Math.floor(r() * KINDS.length)]!;
    const outer = fromVertices(kind(r));
    if (outer.ok && validateLoop(outer.value).length === 0) return withOpenings(outer.value, r);
  }
  throw new Error('no sound outline in 200 tries');
}

const KINDS: readonly ((r: Random) => OutlineVertex[])[] = [
  (r) => star(r, edgeCount(r), false),
  (r) => star(r, edgeCount(r), true),
  (r) => filleted(star(r, 5 + Math.floor(r() * 30), r() < 0.5), 0.2 + 2 * r()),
  (r) => neck(r),
  (r) => filleted(comb(r), 0.5),
];

/** 6 to 200, small ones more often. */
function edgeCount(r: Random): number {
  return 6 + Math.floor(195 * r() ** 3);
}

/** Corners at mixed distances round a middle; four sides in ten are arcs, bulging or hollow, hardly ever tangent. */
function star(r: Random, n: number, wholeMm: boolean): OutlineVertex[] {
  const size = 10 + 20 * r();
  return Array.from({ length: n }, (_, i): OutlineVertex => {
    const angle = (2 * Math.PI * (i + 0.6 * r())) / n;
    const q = size * (0.35 + 0.65 * r());
    const bulge = r() < 0.4 ? r() - 0.5 : 0;
    const [x, y] = [q * Math.cos(angle), q * Math.sin(angle)];
    return wholeMm ? [Math.round(x), Math.round(y), bulge] : [x, y, bulge];
  });
}

/** Two plates joined by a neck whose width is a tenth of a millimetre times a whole number. */
function neck(r: Random): OutlineVertex[] {
  const w = (1 + Math.floor(30 * r())) / 20;
  const b = r() < 0.5 ? 0 : -0.3 * r();
  const l = 2 + 6 * r();
  return [
    [-10, -6, 0.2 * r()],
    [0, -6],
    [0, -w, b],
    [l, -w],
    [l, -5],
    [l + 8, -5, r()],
    [l + 8, 5],
    [l, 5],
    [l, w, b],
    [0, w],
    [0, 6],
    [-10, 6, 0.5],
  ];
}

function comb(r: Random): OutlineVertex[] {
  const teeth = 2 + Math.floor(6 * r());
  const gap = 1 + Math.floor(4 * r()) / 2;
  const top: OutlineVertex[] = [];
  for (let i = teeth - 1; i >= 0; i--) {
    const x = i * (3 + gap);
    top.push([x + 3, 10 + 4 * r()], [x, 10 + 4 * r()], [x, 3], [x - gap, 3]);
  }
  return [[0, 0], [(teeth - 1) * (3 + gap) + 3, 0], ...top.slice(0, -2)];
}

/** Corners between straight sides rounded by tangent arcs, where they fit (textbook: setback r tan(turn / 2)). */
function filleted(v: readonly OutlineVertex[], radius: number): OutlineVertex[] {
  return v.flatMap((here, i): OutlineVertex[] => {
    const before = v[(i + v.length - 1) % v.length]!;
    const after = v[(i + 1) % v.length]!;
    const u = [here[0] - before[0], here[1] - before[1]] as const;
    const w = [after[0] - here[0], after[1] - here[1]] as const;
    const lu = Math.hypot(...u);
    const lw = Math.hypot(...w);
    const turn = Math.atan2(u[0] * w[1] - u[1] * w[0], u[0] * w[0] + u[1] * w[1]);
    const back = radius * Math.tan(Math.abs(turn) / 2);
    if (before[2] || here[2] || back > 0.45 * Math.min(lu, lw) || back < 1e-3) return [here];
    return [
      [here[0] - (u[0] / lu) * back, here[1] - (u[1] / lu) * back, Math.tan(turn / 4)],
      [here[0] + (w[0] / lw) * back, here[1] + (w[1] / lw) * back],
    ];
  });
}

function withOpenings(outer: Loop, r: Random): Region {
  const box = loopBox(outer);
  let region: Region = { outer, holes: [] };
  for (let k = Math.floor(4 * r()); k > 0; k--) {
    const at = { x: box.minX + (box.maxX - box.minX) * r(), y: box.minY + (box.maxY - box.minY) * r() };
    const room = -signedDistance(region, at);
    const hole = room > 1 ? circle(at, 2 * room * (0.2 + 0.7 * r())) : undefined;
    if (hole?.ok) region = { outer, holes: [...region.holes, reverseLoop(hole.value)] };
  }
  return region;
}
