/** Holding on a stub: full thickness of stock left standing beside each part, sawn through at the bench. */
import { short } from '../../base/text.ts';
import { type Mm, toDeg } from '../../base/units.ts';
import { loopLength, positionOf } from '../../geometry/measure/loop.ts';
import { rot90 } from '../../geometry/measure/point.ts';
import type { HoldRequest } from '../../part/part.ts';
import { unusable, type WayOutcome } from '../evaluate/other-ways.ts';
import type { Stub } from '../holding.ts';
import { insideCorners, type Laid, layOn, whyNot } from '../scene/candidates.ts';
import { type EdgePlace, edgePlace } from '../scene/edge.ts';
import type { HoldScene } from '../scene/scene.ts';
import { type HoldWay, NO_WAY } from '../way.ts';

/** At the place that the job gives, or where the edge is flattest and nothing stands against it. */
export function stubWay(scene: HoldScene, request: Extract<HoldRequest, { by: 'stub' }> | null): WayOutcome {
  const width = request?.width ?? Math.max(LEAST_WIDTH, Math.round(scene.thickness * 2));
  const place = request ? placeAt(scene, request.at) : flattest(scene, width);
  const against = standsAgainst(scene, place, width);
  if (against) return unusable(against.code, against.why);
  return {
    kind: 'way',
    way: { ...NO_WAY, by: 'stub', stub: { place, width } },
    reasons: [
      `a stub ${short(width)} mm wide of the whole thickness at ${short(place.at.x)}, ${short(place.at.y)}`,
      'the edge under the stub is sawn, then filed to the line by hand or shaped in a second hold',
    ],
  };
}

/** Narrower ones whip under the cutter. */
const LEAST_WIDTH: Mm = 3;

/** What `whyNot` says of tabs, in words for the one place of a stub. */
const AGAINST: readonly { readonly words: RegExp; readonly code: string; readonly why: string }[] = [
  { words: /noTabs/, code: 'stub-on-no-tab', why: 'the stub would stand where noTabs forbids a tab' },
  {
    words: /cut first/,
    code: 'beside-cut-corner',
    why: 'the stub would stand beside an inside corner that is cut first',
  },
  {
    words: /hollow|corners/,
    code: 'stub-in-hollow',
    why: 'the stub would stand in a hollow of the edge, where its sides cannot be cut',
  },
  { words: /clamp/, code: 'stub-under-clamp', why: 'a clamp stands where the stub is to be sawn' },
  { words: /frame/, code: 'stub-no-frame', why: 'no frame is left beyond the slot for the stub to be rooted in' },
];

function standsAgainst(scene: HoldScene, place: EdgePlace, width: Mm): { code: string; why: string } | null {
  const where = `at ${short(place.at.x)}, ${short(place.at.y)}`;
  const why = whyNot(scene, place, width, insideCorners(scene));
  if (why !== null) {
    const known = AGAINST.find(({ words }) => words.test(why));
    if (known) return { code: known.code, why: `${known.why} (${where})` };
    return { code: 'stub-on-bore', why: `the stub ${where} would stand on ${why}` };
  }
  for (const part of scene.parts.keys()) {
    const narrow = !rootedAcross(scene, layOn(scene, part, place), width);
    if (narrow)
      return {
        code: 'stub-no-frame',
        why: `the stub of part ${part + 1} ${where} is ${short(width)} mm wide and the frame beyond the slot is not`,
      };
    const clamp = clampOver(scene, layOn(scene, part, place), width);
    if (clamp) return { code: 'stub-under-clamp', why: `a clamp stands over the stub of part ${part + 1} (${where})` };
  }
  return null;
}

/** Both flanks of the stub run into standing stock. */
function rootedAcross(scene: HoldScene, laid: Laid, width: Mm): boolean {
  const along = rot90(laid.normal);
  return [-0.5, 0.5].every((side) =>
    [0.02, ROOT].every((deep) =>
      scene.stays(
        laid.root.x + along.x * side * width + laid.normal.x * deep,
        laid.root.y + along.y * side * width + laid.normal.y * deep,
      ),
    ),
  );
}

/** Metal beyond the slot on both flanks (as for tabs). */
const ROOT: Mm = 1.5;

/** The blade runs along the part's edge right across the stub. */
function clampOver(scene: HoldScene, laid: Laid, width: Mm): boolean {
  const along = rot90(laid.normal);
  return scene.held.some((r) =>
    [-0.5, 0, 0.5].some((side) => {
      const x = laid.at.x + along.x * side * width + laid.normal.x * (scene.slotWidth / 2);
      const y = laid.at.y + along.y * side * width + laid.normal.y * (scene.slotWidth / 2);
      return x > r.minX && x < r.maxX && y > r.minY && y < r.maxY;
    }),
  );
}

function placeAt(scene: HoldScene, at: { readonly x: Mm; readonly y: Mm }): EdgePlace {
  return edgePlace(scene.job, positionOf(scene.job.part.outline.loop, at)!.s);
}

function flattest(scene: HoldScene, width: Mm): EdgePlace {
  const { loop } = scene.job.part.outline;
  const length = loopLength(loop);
  const tried = Array.from({ length: 48 }, (_, i) => edgePlace(scene.job, (i * length) / 48));
  const free = tried.filter((p) => standsAgainst(scene, p, width) === null);
  return (free.length > 0 ? free : tried).reduce((a, b) => (score(b) > score(a) + 1e-9 ? b : a));
  function score(p: EdgePlace): number {
    return p.curvature < 0 ? -1 : Math.min(p.toCorner, 10) / (1 + 10 * p.curvature);
  }
}

/** One on each part. The footprint is what a path along a straight edge leaves; the path stage tells it exactly. */
export function stubsOf(scene: HoldScene, way: HoldWay): Stub[] {
  const { stub } = way;
  if (stub === null) return [];
  const footprint = stub.width + scene.cutter.diameter + 2 * Math.SQRT2 * scene.finish.leadAside;
  return scene.job.places.map((_, part) => {
    const { at, angle } = layOn(scene, part, stub.place);
    return { part, at, directionDeg: toDeg(angle), width: stub.width, footprint };
  });
}
