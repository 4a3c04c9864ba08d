/**
 * Stretches along the edge that tabs or the stub leave, lengths counted along the edge. A footprint need not be centred on its tab: the ramp
 * down may be longer than the ramp up, and beside a corner hardly any of it may lie on one side. So a point may be as far from a tab as the
 * footprint, and each stretch that is found uncut, counted to its tab, must not be longer than what is declared of the tabs that stand on it,
 * nor shorter by more than the cutter's own reach.
 */
import type { Mm } from '../../base/units.ts';
import { loopLength, positionOf } from '../../geometry/measure/loop.ts';
import type { Point } from '../../geometry/types.ts';
import type { CutterKind, Job } from '../../part/part.ts';
import type { Head } from '../program/head.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { WallToCut } from './reached.ts';

/** What cuts an edge. */
const MILLS: readonly CutterKind[] = ['end mill', 'slot drill', 'ball-nosed end mill'];

/** Rounding of the head's figures and the few hundredths a lift point moves along a curved edge. */
const FOOTPRINT_SLACK: Mm = 0.05;
/** Points nearer than this are of one stretch: uncut places are looked at every few hundredths. */
const SAME_STRETCH: Mm = 0.2;

interface Kept {
  readonly at: Point;
  /** Along the edge, of the whole footprint. */
  readonly length: Mm;
  readonly tab: boolean;
  /** Where on the edge, from its start. */
  readonly middle: Mm;
}

interface UncutPoint {
  /** Along the edge from its start. */
  readonly s: Mm;
  /** Whether a cutter could have come there: what an inside corner keeps is no tab's. */
  readonly enters: boolean;
}

export function sparedOn(part: WantedPart, head: Head | null, job: Job): Pick<WallToCut, 'spared' | 'overrun'> {
  const total = loopLength(part.loop);
  const kept = keptOn(part, head);
  const uncut: UncutPoint[] = [];
  const spared = (p: Point, enters: boolean) => {
    const s = positionOf(part.loop, p)?.s;
    if (s === undefined) return false;
    const near = kept.some((k) => Math.abs(apart(s, k.middle, total)) <= k.length + FOOTPRINT_SLACK);
    if (near) uncut.push({ s, enters });
    return near;
  };
  return { spared, overrun: () => overrunOf(uncut, kept, total, job) };
}

function keptOn(part: WantedPart, head: Head | null): Kept[] {
  const all = [
    ...(head?.tabs ?? []).map((t) => ({ ...t, tab: true })),
    ...(head?.stubs ?? []).map((s) => ({ ...s, tab: false })),
  ];
  return all
    .filter((t) => t.part === part.index)
    .map(({ at, footprint, tab }) => {
      return { at, length: footprint, tab, middle: positionOf(part.loop, at)?.s ?? 0 };
    });
}

/** From b to a along a closed edge, the shorter way. */
function apart(a: Mm, b: Mm, total: Mm): Mm {
  return ((((a - b + total / 2) % total) + total) % total) - total / 2;
}

/** What is found uncut round one tab, or round several that leave one stretch between them; places from the first tab's middle. */
interface Group {
  readonly owners: readonly Kept[];
  from: Mm;
  to: Mm;
  least: Mm;
  most: Mm;
}

function overrunOf(
  uncut: readonly UncutPoint[],
  kept: readonly Kept[],
  total: Mm,
  job: Job,
): ReturnType<NonNullable<WallToCut['overrun']>> {
  if (uncut.length === 0) return undefined;
  // A disc that stops beside a tab reaches on along the edge within what may be left on it, in an inside curve by up to its own width.
  const widest = Math.max(0, ...job.cutters.filter((c) => MILLS.includes(c.kind)).map((c) => c.diameter));
  for (const { owners, from, to, least, most } of groupsOf(stretchesOf(uncut, total), kept, total)) {
    const declared = owners.reduce((sum, k) => sum + k.length, 0);
    if (to - from > declared + 2 * FOOTPRINT_SLACK * owners.length) {
      return { at: owners[0]!.at, found: to - from, declared };
    }
    if (owners.every((k) => k.tab) && declared - (most - least) > (2 * widest + FOOTPRINT_SLACK) * owners.length) {
      return { at: owners[0]!.at, found: most - least, declared };
    }
  }
  return undefined;
}

function groupsOf(stretches: readonly UncutPoint[][], kept: readonly Kept[], total: Mm): readonly Group[] {
  const groups: Group[] = [];
  const standing = stretches.map((stretch) => ({ stretch, on: standingOn(stretch, kept, total) }));
  // Stretches with no tab on them come last and are counted with the nearest: a tab's edge may be cut in two.
  for (const { stretch, on } of standing.sort((a, b) => Math.sign(b.on.length) - Math.sign(a.on.length))) {
    const own = on[0] ?? ownerOf(stretch, groups, kept, total);
    let group = groups.find((g) => g.owners.includes(own));
    if (group === undefined) {
      group = { owners: on.length > 0 ? on : [own], from: 0, to: 0, least: 0, most: 0 };
      groups.push(group);
    }
    Object.assign(group, extended(group, stretch, total));
  }
  return groups;
}

/** What a group covers with one more stretch. */
function extended(group: Group, stretch: readonly UncutPoint[], total: Mm): Group {
  const start = apart(stretch[0]!.s, group.owners[0]!.middle, total);
  const grown = { ...group };
  for (const p of stretch) {
    const d = start + p.s - stretch[0]!.s;
    grown.least = Math.min(grown.least, d);
    grown.most = Math.max(grown.most, d);
    if (!p.enters) continue;
    grown.from = Math.min(grown.from, d);
    grown.to = Math.max(grown.to, d);
  }
  return grown;
}

/**
 * Whose a stretch is on which no tab stands: of the tabs near it, nearest first, the first whose declared footprint has room for it. Where two
 * tabs stand either side of a corner that a smaller cutter has cut, the nearest need not be its own.
 */
function ownerOf(stretch: readonly UncutPoint[], groups: readonly Group[], kept: readonly Kept[], total: Mm): Kept {
  const away = (k: Kept) =>
    Math.min(...[stretch[0]!, stretch.at(-1)!].map((p) => Math.abs(apart(p.s, k.middle, total))));
  const fits = (k: Kept) => {
    const group = groups.find((g) => g.owners.includes(k)) ?? { owners: [k], from: 0, to: 0, least: 0, most: 0 };
    const declared = group.owners.reduce((sum, o) => sum + o.length, 0);
    const { from, to } = extended(group, stretch, total);
    return to - from <= declared + 2 * FOOTPRINT_SLACK * group.owners.length;
  };
  const near = [...kept].sort((a, b) => away(a) - away(b));
  return near.find((k) => away(k) <= k.length && fits(k)) ?? near[0]!;
}

/** In order along the edge; one that runs over the edge's start is one stretch, its places counted on beyond `total`. */
function stretchesOf(uncut: readonly UncutPoint[], total: Mm): UncutPoint[][] {
  const sorted = [...uncut].sort((a, b) => a.s - b.s);
  const found: UncutPoint[][] = [];
  for (const p of sorted) {
    const last = found.at(-1);
    if (last !== undefined && p.s - last.at(-1)!.s <= SAME_STRETCH) last.push(p);
    else found.push([p]);
  }
  const first = found[0]!;
  const last = found.at(-1)!;
  if (found.length > 1 && first[0]!.s + total - last.at(-1)!.s <= SAME_STRETCH) {
    found.shift();
    last.push(...first.map((p) => ({ ...p, s: p.s + total })));
  }
  return found;
}

/** The tabs that stand on a stretch, in its order. */
function standingOn(stretch: readonly UncutPoint[], kept: readonly Kept[], total: Mm): Kept[] {
  const from = stretch[0]!.s;
  const on = (k: Kept) => (((k.middle - from) % total) + total) % total;
  return kept.filter((k) => on(k) <= stretch.at(-1)!.s - from).sort((a, b) => on(a) - on(b));
}
