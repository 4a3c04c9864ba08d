/** Where tabs may stand: all round the edge, less what forbids them, with the reason each place is left out. */
import { arctangent2 } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import { loopLength } from '../../geometry/measure/loop.ts';
import { angleOf, cross, dist, dot } from '../../geometry/measure/point.ts';
import { directionAt } from '../../geometry/measure/segment.ts';
import { placePoint, placeVector } from '../../geometry/measure/transform.ts';
import type { Point } from '../../geometry/types.ts';
import { allPlaces, type EdgePlace, forbidden } from './edge.ts';
import type { HoldScene } from './scene.ts';

export interface TabCandidate extends EdgePlace {
  /** How well a saw and a flat file get at it: 1 on a flat clear of corners. */
  readonly ease: number;
}

/** Where the place is on a part, program coordinates. */
export interface Laid {
  readonly at: Point;
  readonly normal: Point;
  readonly angle: number;
  /** Where the tab meets the frame. */
  readonly root: Point;
}

export interface Candidates {
  readonly places: readonly TabCandidate[];
  /** Length of the edge. */
  readonly length: Mm;
  /** Words for what was left out: `inside corners`, `thin wall at hole 2`. */
  readonly leftOut: readonly string[];
}

/** Metal that must stand beyond the slot for a tab to be rooted in (common practice: not less than the tab is wide). */
const ROOT_METAL: Mm = 1.5;
/** Wall between edge and bore under which a tab would tear or mark the bore when it is sawn. */
const THIN_WALL: Mm = 1.2;

export function candidates(scene: HoldScene, width: Mm): Candidates {
  const { job } = scene;
  const length = loopLength(job.part.outline.loop);
  const leftOut = new Set<string>();
  const hollows = insideCorners(scene);
  const places: TabCandidate[] = [];
  for (const place of allPlaces(job)) {
    const why = whyNot(scene, place, width, hollows);
    if (why === null) places.push({ ...place, ease: easeOf(place, scene.cutter.diameter) });
    else leftOut.add(why);
  }
  const corners = outsideCorners(scene);
  const clear = places.filter((p) => corners.every((c) => dist(c, p.at) >= width / 2));
  if (clear.length === places.length || clear.length < FEW) return { places, length, leftOut: [...leftOut].sort() };
  return { places: clear, length, leftOut: [...leftOut, 'outside corners'].sort() };
}

/** A tab bent round a corner is sawn and filed on two faces: only where there are fewer places than this without. */
const FEW = 12;
/** Radians; what turns less is a curve drawn in pieces. */
const SHARP = Math.PI / 6;

/** null: a tab may stand here. */
export function whyNot(scene: HoldScene, place: EdgePlace, width: Mm, hollows: readonly Point[]): string | null {
  const { job, cutter } = scene;
  const off = forbidden(job, scene.plan, place, width);
  if (off === 'noTabs') return 'stretches that "noTabs" names';
  if (off === 'cut corner') return 'stretches beside what is cut first';
  if (place.curvature < 0) return 'hollow curves';
  if (hollows.some((h) => dist(h, place.at) < (width + cutter.diameter) / 2)) return 'inside corners';
  const thin = job.part.holes.find((h) => dist(h.at, place.at) - h.diameter / 2 < THIN_WALL);
  if (thin) return `the thin wall at hole ${thin.index + 1}`;
  for (const part of job.places.keys()) {
    const laid = layOn(scene, part, place);
    if (!isFrame(scene, laid)) return 'places with no frame beyond the slot';
    if (scene.held.some((r) => nearRect(r, laid.root) < CLAMP_ROOM)) return 'places with a clamp too near the slot';
  }
  return null;
}

/** A saw blade or a file has to get in between clamp and slot. */
const CLAMP_ROOM: Mm = 0.5;

export function layOn(scene: HoldScene, part: number, place: EdgePlace): Laid {
  const placement = scene.job.places[part]!;
  const at = placePoint(placement, place.at);
  const normal = placeVector(placement, place.normal);
  const root = { x: at.x + normal.x * scene.slotWidth, y: at.y + normal.y * scene.slotWidth };
  return { at, normal, angle: angleOf(normal), root };
}

function isFrame(scene: HoldScene, laid: Laid): boolean {
  return [0.02, 0.5, 1].every((share) =>
    scene.stays(laid.root.x + laid.normal.x * share * ROOT_METAL, laid.root.y + laid.normal.y * share * ROOT_METAL),
  );
}

/** 1 on a flat far from corners; less where a file finds no flat to follow or a corner is near. */
export function easeOf(p: EdgePlace, cutter: Mm): number {
  const corner = Math.min(1, p.toCorner / cutter);
  const curve = 1 / (1 + Math.abs(p.curvature) * 2 * cutter);
  return 0.25 + 0.75 * corner * curve;
}

export function insideCorners(scene: HoldScene): readonly Point[] {
  return cornersOf(scene, (turn) => turn < -1e-3);
}

function outsideCorners(scene: HoldScene): readonly Point[] {
  return cornersOf(scene, (turn) => turn > SHARP);
}

function cornersOf(scene: HoldScene, are: (turn: number) => boolean): readonly Point[] {
  const loop = scene.job.part.outline.loop;
  return loop.flatMap((s, i) => {
    const next = loop[(i + 1) % loop.length]!;
    const out = directionAt(s, 1);
    const into = directionAt(next, 0);
    return are(arctangent2(cross(out, into), dot(out, into))) ? [s.b] : [];
  });
}

function nearRect(r: { minX: Mm; minY: Mm; maxX: Mm; maxY: Mm }, p: Point): Mm {
  return Math.hypot(Math.max(0, r.minX - p.x, p.x - r.maxX), Math.max(0, r.minY - p.y, p.y - r.maxY));
}
