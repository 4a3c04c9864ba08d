/**
 * The cutters of a job that names none: those of the stated drawer that this job can use. The whole drawer has over 200, and
 * a control's table has 68 places (NISTIR 6556, B.5.4), so a number beyond them could not be called.
 */
import type { Mm } from '../../base/units.ts';
import { DRAWER_HOLDER, type DrawerCutter, defaultDrawer, drawerTap } from '../../trade/drawer.ts';
import { PILOT, reamingStock } from '../../trade/hole-rules.ts';
import { findThread } from '../../trade/threads/threads.ts';
import type { Desk } from '../desk.ts';
import type { Cutter, HoleMake } from '../part.ts';

/** What the choice looks at in a hole. */
export interface WantedHole {
  readonly make: HoleMake;
  readonly diameter: Mm;
}

/** Kept below the 68 places of a control's table, with room for a person's own additions. */
const MOST_CUTTERS = 60;

/** Numbered from 1 without gaps: mills, cones, reamers, drills by size, taps. `threads`: further threads wanted, such as that of a screw that holds. */
export function drawerCutters(holes: readonly WantedHole[], threads: readonly string[], desk: Desk): Cutter[] {
  const tapped = holes.flatMap((h) => (h.make.kind === 'tap' ? [h.make.thread] : []));
  const taps = threadsNamed([...tapped, ...threads]).map(drawerTap);
  const stated = defaultDrawer();
  const always = stated.filter((c) => c.kind !== 'drill' && c.kind !== 'reamer');
  const bores = [
    ...holes.map(boreOf),
    ...threadsNamed(threads).map((t) => ({ drill: [t.tapDrill.diameter], ream: null })),
  ];
  const ranked = rankedSizes(stated, bores);
  const room = Math.max(0, MOST_CUTTERS - always.length - taps.length);
  const kept = new Set(ranked.slice(0, room));
  desk.assume(
    'The cutters are those of the stated drawer that the job can use: carbide end mills 2, 3, 4 and 6 mm, HSS slot drills 4, 6 and 10 mm, a spot drill, ' +
      'countersinks, a chamfer cutter, and of its reamers 2 to 12 mm and 1/8 to 1/2 in, drills 1 to 13 mm by 0.1, tapping drills, ' +
      '1/64 in steps to 1/2 in and taps the sizes that the holes want, with pilots and neighbours.',
  );
  const rows = [...always, ...stated.filter((c) => kept.has(c)), ...taps];
  return rows.map((row, i) => drawerCutter(row, i + 1));
}

function threadsNamed(names: readonly string[]) {
  return [...new Set(names)].flatMap((name) => {
    const thread = findThread(name);
    return thread.kind === 'found' ? [thread.value] : [];
  });
}

interface WantedSizes {
  /** Drill diameters aimed at. */
  readonly drill: readonly Mm[];
  readonly ream: Mm | null;
}

/** A bore with a fit may have to be reamed. */
function boreOf({ make, diameter }: WantedHole): WantedSizes {
  if (make.kind === 'ream' || (make.kind === 'bore' && make.fit !== null)) {
    const { usual, high } = reamingStock(make.nominal);
    return { drill: [make.nominal - usual, make.nominal - high], ream: make.nominal };
  }
  return { drill: make.kind === 'bore' ? [] : [diameter], ream: null };
}

/** Most needed first: the size itself, then pilots, then the neighbours that may stand in for it. */
function rankedSizes(stated: readonly DrawerCutter[], wanted: readonly WantedSizes[]): DrawerCutter[] {
  const drills = stated.filter((c) => c.kind === 'drill');
  const reamers = stated.filter((c) => c.kind === 'reamer');
  const sizes = wanted.flatMap((w) => w.drill);
  const ranks = [
    ...wanted.flatMap((w) => (w.ream === null ? [] : nearest(reamers, w.ream, 1))),
    ...sizes.flatMap((d) => nearest(drills, d, 1)),
    ...sizes.filter((d) => d > PILOT.from.value).flatMap((d) => nearest(drills, PILOT.share.high * d, 1)),
    ...sizes.flatMap((d) => nearest(drills, d, 5)),
    ...wanted.flatMap((w) => (w.ream === null ? [] : nearest(reamers, w.ream, 3))),
  ];
  return [...new Set(ranks)];
}

function nearest(from: readonly DrawerCutter[], size: Mm, count: number): DrawerCutter[] {
  return from.toSorted((a, b) => Math.abs(a.diameter - size) - Math.abs(b.diameter - size)).slice(0, count);
}

function drawerCutter(row: DrawerCutter, number: number): Cutter {
  const {
    kind,
    diameter,
    flutes,
    fluteLength,
    stickOut,
    shank,
    material,
    centreCutting,
    cornerRadius,
    tip,
    lead,
    thread,
  } = row;
  const { diameter: holderDiameter, length } = DRAWER_HOLDER;
  return {
    number,
    kind,
    nominal: diameter,
    diameter,
    flutes,
    fluteLength,
    stickOut,
    shank,
    material,
    centreCutting,
    helixDeg: row.helix,
    cornerRadius,
    pointDeg: row.point,
    tip,
    lead,
    thread,
    holder: { diameter: holderDiameter, length },
    fromDrawer: true,
  };
}
