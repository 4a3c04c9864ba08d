/**
 * What a program does to the part, by brute force: points of the path close together against points of the edge, with
 * distances worked out here. Plain on purpose; it says whether a planted fault is one (design 4.5), and knows nothing of the check.
 * Flat-ended cutters against edge, pockets and holes; every cutter's rapids; what it cannot judge it does not claim.
 */
import type { Job } from '../../src/part/part.ts';
import { courseOf, lengthOf, type Move, pointOf } from './course.ts';
import { curveOf, distanceTo, isBeyond, type P } from './distance.ts';
import type { Good, Text } from './jobs.ts';
import { type Part, partsOf, SLACK } from './solid.ts';
import { unitOf } from './text.ts';

/** Limits of the design with a little on top, so that nothing hangs on the last digit of the text. */
const GOUGE = 0.0065;
const UNCUT = 0.0125;
/**
 * Where a footprint lies off its tab's middle the good program leaves stock as well, and ramps are not counted here: a foot that comes a tenth
 * later, which the footprint's own tolerance allows, adds up to 0.05 to what the level stroke alone leaves.
 */
const RAMP = 0.06;
const STEP = 0.02;

/** Words for the harm that a changed program does beyond what the good one did; null: none that this judge sees. */
export function harmOf(good: Good, programs: readonly Text[]): string | null {
  const { job } = good;
  const before = beforeOf(good);
  const after = movesOf(programs);
  const kept = new Set<string>();
  const added: Move[] = [];
  for (const m of after) {
    const key = keyOf(m);
    if (before.moves.has(key)) kept.add(key);
    else added.push(m);
  }
  const gouge = Math.max(0, ...added.filter((m) => isFlat(job, m)).map((m) => deepest(m, job)));
  if (gouge > GOUGE) return `gouge of ${gouge.toFixed(4)} mm`;
  const gone = [...before.moves].flatMap(([k, m]) => (kept.has(k) || !isFlat(job, m) ? [] : [m]));
  const uncut = uncutBeyond(before.edge, new EdgeLeft(job, programs, after), gone);
  if (uncut !== null) return `${uncut.toFixed(4)} mm left on the edge`;
  const lowest = Math.max(0, ...added.map((m) => lowRapid(m, job)));
  return lowest > 0.01 ? `rapid ${lowest.toFixed(3)} below the top` : null;
}

interface Before {
  readonly moves: ReadonlyMap<string, Move>;
  readonly edge: EdgeLeft;
}

const befores = new WeakMap<Good, Before>();

function beforeOf(good: Good): Before {
  const known = befores.get(good);
  if (known !== undefined) return known;
  const moves = movesOf(good.programs);
  const before = {
    moves: new Map(moves.map((m) => [keyOf(m), m])),
    edge: new EdgeLeft(good.job, good.programs, moves),
  };
  befores.set(good, before);
  return before;
}

function movesOf(programs: readonly Text[]): Move[] {
  return courseOf(programs).filter((m) => Number.isFinite(m.to.x + m.to.y + m.to.z + m.from.x + m.from.y + m.from.z));
}

function keyOf(m: Move): string {
  const { from: a, to: b, centre: c } = m;
  return `${m.kind} ${m.tool} ${m.clockwise} ${a.x} ${a.y} ${a.z} ${b.x} ${b.y} ${b.z} ${c.x} ${c.y}`;
}

const cutterOf = (job: Job, n: number) => job.cutters.find((c) => c.number === n);
const radiusOf = (job: Job, m: Move) => cutterOf(job, m.tool)!.diameter / 2;
const isFlat = (job: Job, m: Move) => ['end mill', 'slot drill'].includes(cutterOf(job, m.tool)?.kind ?? '');

function lowRapid(m: Move, job: Job): number {
  if (m.kind !== 'rapid' || Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y) < 1e-6) return 0;
  return job.stock.max[2] - Math.min(m.from.z, m.to.z);
}

/** Points along the move, but those that lie too near to one that is clear to be worse than what was found. */
function deepest(m: Move, job: Job): number {
  const r = radiusOf(job, m);
  const low = Math.min(m.from.z, m.to.z);
  if (!(low < -0.005)) return 0;
  const count = Math.max(1, Math.ceil(lengthOf(m) / STEP));
  const step = lengthOf({ ...m, to: { ...m.to, z: m.from.z } }) / count;
  let most = 0;
  for (let i = 0; i <= count; i++) {
    const p = pointOf(m, i / count);
    let room = Infinity;
    for (const part of partsOf(job)) {
      // However far sideways: no deeper than the disc is below the top.
      if (p.z < -0.005) most = Math.max(most, Math.min(part.lack(p, r, p.z, most), -p.z));
      room = Math.min(room, most - part.lack(p, r, low, most));
    }
    if (room > SLACK) i += Math.floor((room - SLACK) / step);
  }
  return most;
}

/** Widest stock left on the edge near the lost cuts, where the good program left less. */
function uncutBeyond(was: EdgeLeft, now: EdgeLeft, lost: readonly Move[]): number | null {
  const most = now.most(lost);
  const before = was.most(lost);
  return most > UNCUT && most > before + (before > UNCUT ? RAMP : 0.002) ? most : null;
}

/** What stock a program leaves on the edges of the parts at the foot of the profile, away from tabs. */
class EdgeLeft {
  private readonly job: Job;
  private readonly cuts: readonly Move[];
  private readonly tabs: readonly Tab[];
  private readonly known: ReadonlyMap<Part, Float64Array>;

  constructor(job: Job, programs: readonly Text[], moves: readonly Move[]) {
    this.job = job;
    const foot = footOf(job, programs);
    this.cuts = moves.filter((m) => Math.max(m.from.z, m.to.z) <= foot + 2e-4 && isFlat(job, m));
    this.tabs = tabsOf(programs);
    this.known = new Map(partsOf(job).map((p) => [p, new Float64Array(p.edgePoints.length).fill(NaN)]));
  }

  /** The most at the points that these moves cut. */
  most(near: readonly Move[]): number {
    let most = 0;
    const reaches = near.map((m) => ({ curve: curveOf(m), reach: radiusOf(this.job, m) + 0.02 }));
    for (const part of partsOf(this.job)) {
      for (const [i, p] of part.edgePoints.entries()) {
        const isNear = reaches.some((n) => !isBeyond(n.curve.box, p, n.reach) && distanceTo(n.curve, p) < n.reach);
        if (isNear) most = Math.max(most, this.at(part, i));
      }
    }
    return most;
  }

  private at(part: Part, i: number): number {
    const known = this.known.get(part)!;
    if (Number.isNaN(known[i])) known[i] = this.measured(part.edgePoints[i]!);
    return known[i]!;
  }

  private measured(p: P): number {
    if (this.tabs.some((t) => Math.hypot(p.x - t.x, p.y - t.y) < t.footprint / 2 + 0.3)) return 0;
    let least = 99;
    for (const m of this.cuts) {
      if (least <= 0) return 0;
      const [c, r] = [curveOf(m), radiusOf(this.job, m)];
      if (!isBeyond(c.box, p, least + r)) least = Math.min(least, distanceTo(c, p) - r);
    }
    return Math.max(0, least);
  }
}

/** Height down to which the edge is cut. */
function footOf(job: Job, programs: readonly Text[]): number {
  const bottom = -job.part.thickness;
  const floor = programs[0]!.text.match(/\(HOLD floor ([\d.]+)\)/);
  return floor === null ? bottom : Math.max(bottom, job.stock.min[2] + Number(floor[1]) * unitOf(programs, 0));
}

interface Tab extends P {
  readonly footprint: number;
}

function tabsOf(programs: readonly Text[]): Tab[] {
  const unit = unitOf(programs, 0);
  const heads = /\((?:TAB \d+|HOLD stub) PART \d+ AT X(\S+) Y(\S+) .*FOOTPRINT ([\d.]+)\)/g;
  return [...programs[0]!.text.matchAll(heads)].map((m) => ({
    x: Number(m[1]) * unit,
    y: Number(m[2]) * unit,
    footprint: Number(m[3]) * unit,
  }));
}
