/**
 * Pockets that run over the edge of the part. One that goes through is no pocket but a piece out of the outline; a blind one
 * keeps what lies within the part, with its open sides. No tab may stand on either's mouth.
 */
import { SAME_POINT } from '../base/tolerance.ts';
import type { Mm } from '../base/units.ts';
import { intersect, subtract } from '../geometry/join.ts';
import { distanceToLoop, loopGap } from '../geometry/measure/distance.ts';
import { whereIs } from '../geometry/measure/inside.ts';
import { loopLength } from '../geometry/measure/loop.ts';
import { pointAt } from '../geometry/measure/segment.ts';
import type { Chain, Loop, Segment } from '../geometry/types.ts';
import { validateLoop } from '../geometry/validate.ts';
import type { Desk } from './desk.ts';
import type { NoTab, Outline, Pocket } from './part.ts';

export interface Opened {
  readonly outline: Outline;
  readonly pockets: readonly Pocket[];
  /** Mouths. */
  readonly noTabs: readonly NoTab[];
}

/** A mouth narrower than this is a pocket that touches the edge. */
const LEAST_MOUTH: Mm = 0.05;

export function openPockets(drawn: Outline, pockets: readonly Pocket[], desk: Desk): Opened {
  const { outline, away } = takeAway(drawn, pockets, desk);
  const kept = pockets.filter((p) => !away.includes(p)).map((p) => clipped(outline, p, desk));
  const mouths = [
    ...kept.flatMap((p) => p.open),
    ...(away.length > 0 ? stretchesOf(outline.loop, (s) => !lies(s, drawn.loop)) : []),
  ];
  const noTabs = mouths.map(
    (m): NoTab => ({
      kind: 'stretch',
      from: m[0]!.a,
      to: m[m.length - 1]!.b,
      cutBy: 'pocket',
    }),
  );
  return { outline, pockets: kept, noTabs };
}

/** The outline less the through pockets that cross it, or cross what those leave of it. */
function takeAway(drawn: Outline, pockets: readonly Pocket[], desk: Desk): { outline: Outline; away: Pocket[] } {
  const away: Pocket[] = [];
  let outline = drawn;
  for (let more = true; more; ) {
    more = false;
    for (const p of pockets) {
      if (p.depth !== null || away.includes(p) || !crosses(outline.loop, p.outline.loop)) continue;
      const left = lessOne(outline, p, desk);
      if (left === 'inside') continue;
      away.push(p);
      if (left === 'faulty') continue;
      outline = left;
      more = true;
    }
  }
  return { outline, away };
}

/** `inside`: it does not reach over the edge, or not into the part. `faulty`: it would leave no part in one piece, which is told. */
function lessOne(outline: Outline, pocket: Pocket, desk: Desk): Outline | 'inside' | 'faulty' {
  if (floorsOf(outline.loop, pocket.outline.loop).length === 0) return 'inside';
  const made = subtract({ outer: outline.loop, holes: [] }, [{ outer: pocket.outline.loop, holes: [] }]);
  const regions = made.kind === 'regions' ? made.regions : [];
  const [only] = regions;
  // It only touches the edge from within: its wall is judged as any other.
  if (regions.length === 1 && only!.holes.length > 0) return 'inside';
  const pinched = regions.length === 1 && validateLoop(only!.outer).some((d) => d.kind !== 'short piece');
  if (regions.length === 1 && !pinched) {
    const { drawn, less } = outline.cut ?? { drawn: outline.loop, less: [] };
    return { ...outline, loop: only!.outer, cut: { drawn, less: [...less, pocket.outline], within: null } };
  }
  desk.fault({
    code: 'opening-parts',
    at: ['part', 'pockets', pocket.index, 'outline'],
    point: pocket.outline.loop[0]!.a,
    found: made.kind === 'failed' ? made.reason : leftWords(regions.length),
    wanted: 'an opening that leaves the part in one piece',
    remedy: 'move it or make it smaller',
  });
  return 'faulty';
}

function leftWords(pieces: number): string {
  if (pieces === 0) return 'the opening leaves nothing of the part';
  return pieces === 1
    ? 'the opening leaves a part that hangs together at a point'
    : `the opening cuts the part into ${pieces} pieces`;
}

/** A blind pocket within the part; one that stays away from the edge is returned as it is. */
function clipped(part: Outline, pocket: Pocket, desk: Desk): Pocket {
  if (pocket.depth === null || !crosses(part.loop, pocket.outline.loop)) return pocket;
  const floors = floorsOf(part.loop, pocket.outline.loop);
  if (floors.length > 1) {
    desk.fault({
      code: 'pocket-parts',
      at: ['part', 'pockets', pocket.index, 'outline'],
      point: floors[1]![0]!.a,
      found: `the pocket meets the part in ${floors.length} separate places`,
      wanted: 'one place',
      remedy: `draw ${floors.length} pockets`,
    });
  }
  const [loop] = floors;
  if (loop === undefined) return pocket;
  const open = stretchesOf(loop, (s) => lies(s, part.loop)).filter((m) => loopLength(m) >= LEAST_MOUTH);
  if (open.length === 0) return pocket;
  if (loopLength(open.flat()) > loopLength(loop) - LEAST_MOUTH) {
    desk.fault({
      code: 'pocket-over-all',
      at: ['part', 'pockets', pocket.index, 'outline'],
      found: 'the pocket covers the whole part',
      wanted: 'a pocket that leaves something of the top face',
      remedy: 'make the part thinner instead',
    });
  }
  const cut = { drawn: pocket.outline.loop, less: [], within: part };
  return { ...pocket, outline: { ...pocket.outline, loop, cut }, open };
}

/** Touching counts: a pocket drawn flush with the edge is open there. */
function crosses(edge: Loop, loop: Loop): boolean {
  return loopGap(edge, loop).distance <= SAME_POINT;
}

function floorsOf(edge: Loop, loop: Loop): readonly Loop[] {
  const made = intersect({ outer: edge, holes: [] }, { outer: loop, holes: [] });
  return made.kind === 'regions' ? made.regions.map((r) => r.outer) : [];
}

/** Both come from the same exact curves. */
function lies(s: Segment, edge: Loop): boolean {
  return distanceToLoop(edge, pointAt(s, 0.5)) <= SAME_POINT && whereIs(edge, pointAt(s, 0.25)) === 'edge';
}

/** Runs of pieces that are wanted, in the loop's order; all of the loop is one. */
function stretchesOf(loop: Loop, wanted: (s: Segment) => boolean): Chain[] {
  const are = loop.map(wanted);
  const first = are.findIndex((is, i) => is && !are[(i + loop.length - 1) % loop.length]!);
  if (first < 0) return are.every((is) => is) ? [loop] : [];
  const out: Segment[][] = [];
  let inRun = false;
  for (let k = 0; k < loop.length; k++) {
    const i = (first + k) % loop.length;
    if (are[i] && !inRun) out.push([]);
    if (are[i]) out[out.length - 1]!.push(loop[i]!);
    inRun = are[i]!;
  }
  return out;
}
