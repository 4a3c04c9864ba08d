/**
 * What a changed program would really do, beyond the limits of design 4.5, by brute force and knowing nothing of the check: its moves are
 * walked by the small interpreter here, edges by `harm.ts`, rapids by `standing.ts`.
 * What it cannot judge it does not claim; it errs towards calling a harm none, by the margins written beside each.
 */
import type { Cutter, Job } from '../../src/part/part.ts';
import { findMaterial } from '../../src/trade/materials/materials.ts';
import { toothFeedStart } from '../../src/trade/milling-rules.ts';
import { findThread } from '../../src/trade/threads/threads.ts';
import { courseOf, lengthOf, type Move, pointOf } from './course.ts';
import { curveOf, isBeyond, type P } from './distance.ts';
import { harmOf } from './harm.ts';
import type { Good, Text } from './jobs.ts';
import { rapidInStock } from './standing.ts';
import { linesOf } from './text.ts';

/** Words for the first harm found; null: none that this judge sees. */
export function judge(good: Good, programs: readonly Text[]): string | null {
  const moves = courseOf(programs);
  return (
    atStops(programs) ??
    states(good, moves) ??
    holes(good, moves) ??
    chamfers(good, moves) ??
    tabs(good, moves) ??
    harmOf(good, programs) ??
    rapidInStock(good.job, moves)
  );
}

const kindOf = (job: Job, tool: number): Cutter | undefined => job.cutters.find((c) => c.number === tool);
const MILLS = ['end mill', 'slot drill'];
const isKnown = (m: Move) => Number.isFinite(m.from.x + m.from.y + m.from.z + m.to.x + m.to.y + m.to.z);

/** A stop or the end with the spindle turning, or a program that goes on past its end. */
function atStops(programs: readonly Text[]): string | null {
  for (const p of programs) {
    let on = false;
    let ended = false;
    let begun = false;
    let stopped = false;
    for (const line of linesOf(p)) {
      if (line.startsWith('(SCREWS FITTED') && !stopped) return 'nobody can fit the screws';
      if (line.startsWith('(')) continue;
      if (/[A-Z]/.test(line)) begun = true;
      if (/[XYZ]/.test(line)) stopped = false;
      if (/\bM0\b/.test(line)) stopped = true;
      if (on && /\bM(0|1|6|2|30)\b/.test(line)) return `the spindle turns at ${line}`;
      if (/\bM[34]\b/.test(line)) on = true;
      if (/\bM5\b/.test(line)) on = false;
      // A closing % ends it as well.
      if (/\bM(2|30)\b/.test(line) || (line === '%' && begun)) {
        ended = true;
        break;
      }
    }
    if (!ended) return `${p.file} has no end`;
  }
  return null;
}

/** Spindle, speed and feed of every move in the stock, and moves sideways from nobody knows where. */
function states(good: Good, all: readonly Move[]): string | null {
  const { job } = good;
  const found = findMaterial(job.material);
  if (found.kind === 'unknown') return null;
  const top = job.stock.max[2];
  for (const m of all) {
    const moves = (a: number, b: number) => Number.isFinite(b) && a !== b;
    const sideways = moves(m.from.x, m.to.x) || moves(m.from.y, m.to.y);
    if (!Number.isFinite(m.from.z) && sideways) return `sideways at line ${m.line + 1} with Z unknown`;
    if (m.kind === 'rapid' || !isKnown(m) || Math.min(m.from.z, m.to.z) > top - 0.1) continue;
    const c = kindOf(job, m.tool);
    if (c === undefined) return `line ${m.line + 1} cuts with no cutter of the job`;
    if (m.turning !== 'M3' && m.cycle !== 84) return `line ${m.line + 1} cuts with ${m.turning}`;
    if (!(m.feed > 0)) return `line ${m.line + 1} has no feed`;
    if (m.feed > job.machine.maxFeed * 1.01) return `feed ${m.feed} over the machine's at line ${m.line + 1}`;
    const { maxSpeed, minSpeed } = job.machine;
    if (m.speed > maxSpeed + 1 || m.speed < minSpeed - 1) return `speed ${m.speed} at line ${m.line + 1}`;
    const pitch = c.kind === 'tap' ? findThread(c.thread ?? '') : null;
    if (pitch?.kind === 'found' && m.cycle === 84 && Math.abs(m.feed / m.speed / pitch.value.pitch - 1) > 0.05)
      return `a tap fed ${m.feed / m.speed} a turn at line ${m.line + 1}`;
    // Four times the start: 2.5 that are allowed, with 1.5 for outside curves.
    const start = toothFeedStart(c.diameter, found.value, c.material).value;
    const tooth = m.feed / m.speed / c.flutes;
    if (MILLS.includes(c.kind) && sideways && m.to.z >= m.from.z && tooth > 4 * start && deep(good, m))
      return `${tooth.toFixed(3)} a tooth at line ${m.line + 1}`;
    const on = ['drill', 'reamer'].includes(c.kind) && m.to.z < m.from.z;
    const rate = (c.kind === 'reamer' ? 3 : 1) * found.value.drillFeedPerDiameter.value * c.diameter;
    if (on && m.feed / m.speed > 4 * rate) return `${(m.feed / m.speed).toFixed(3)} a turn at line ${m.line + 1}`;
  }
  return null;
}

/** Low enough to be in a slot or pocket, not at leisure above it. */
function deep(good: Good, m: Move): boolean {
  return Math.max(m.from.z, m.to.z) < good.job.stock.max[2] - 0.2 && lengthOf(m) > 1;
}

function placed(job: Job, p: P): P[] {
  return job.places.map((place) => {
    const x = place.mirror ? -p.x : p.x;
    const [c, s] = [Math.cos(place.turn), Math.sin(place.turn)];
    return { x: place.at.x + x * c - p.y * s, y: place.at.y + x * s + p.y * c };
  });
}

/** Drills and the like: where each goes down, how deep, and that each hole is still made to its depth. */
function holes(good: Good, moves: readonly Move[]): string | null {
  const before = downsOf(good.job, courseOf(good.programs));
  const after = downsOf(good.job, moves);
  const all = good.job.part.holes.flatMap((h) => placed(good.job, h.at));
  for (const [key, down] of after) {
    const was = before.get(key);
    if (was === undefined) {
      // Where the part is, or where one of its holes is, but off its place: frame may be drilled for all it matters here.
      const off = Math.min(...all.map((h) => Math.hypot(h.x - down.x, h.y - down.y)));
      if (off > 0.004 && off < 1.5 && down.z < -0.3)
        return `cutter ${down.tool} goes down ${off.toFixed(3)} off a hole`;
      continue;
    }
    if (down.blind && down.z < was.z - 0.02 && !isInHole(good.job, down))
      return `cutter ${down.tool} goes ${(was.z - down.z).toFixed(3)} too deep`;
  }
  for (const [key, was] of before) {
    const now = after.get(key);
    // Without a spot a drill may wander; that is no limit of the design.
    if (kindOf(good.job, was.tool)?.kind === 'spot drill') continue;
    if (now === undefined) return `a hole is not made by cutter ${was.tool}`;
    const least = was.blind ? was.z + 0.02 : Math.max(was.z + 0.02, -good.job.part.thickness + 0.02);
    if (now.z > least && kindOf(good.job, was.tool)?.kind !== 'spot drill')
      return `a hole is ${now.z} deep for ${was.z}`;
  }
  return null;
}

/** A spot whose cone stays within what the hole takes away later. */
function isInHole(job: Job, down: Down): boolean {
  const c = kindOf(job, down.tool);
  if (c?.kind !== 'spot drill') return false;
  const reach = -down.z * Math.tan((c.pointDeg * Math.PI) / 360);
  return job.part.holes.some(
    (h) =>
      (h.depth === null || -down.z < h.depth) &&
      reach < h.diameter / 2 &&
      placed(job, h.at).some((at) => Math.hypot(at.x - down.x, at.y - down.y) < 0.01),
  );
}

interface Down extends P {
  z: number;
  readonly tool: number;
  readonly blind: boolean;
}

const DOWN = ['drill', 'reamer', 'countersink', 'counterbore', 'spot drill'];

function downsOf(job: Job, moves: readonly Move[]): Map<string, Down> {
  const downs = new Map<string, Down>();
  const blindAt = job.part.holes.flatMap((h) => placed(job, h.at).map((at) => ({ at, blind: h.depth !== null })));
  for (const m of moves) {
    const kind = kindOf(job, m.tool)?.kind ?? '';
    if (!DOWN.includes(kind) || !isKnown(m) || m.kind === 'rapid' || m.to.z >= m.from.z || m.to.z > -0.05) continue;
    const key = `${m.tool} ${m.to.x.toFixed(2)} ${m.to.y.toFixed(2)}`;
    const near = blindAt.find((h) => Math.hypot(h.at.x - m.to.x, h.at.y - m.to.y) < 0.01);
    const blind = kind === 'countersink' || kind === 'counterbore' || kind === 'spot drill' || (near?.blind ?? false);
    const known = downs.get(key);
    if (known) known.z = Math.min(known.z, m.to.z);
    else downs.set(key, { x: m.to.x, y: m.to.y, z: m.to.z, tool: m.tool, blind });
  }
  return downs;
}

/** A chamfer is cut as before, no deeper, and nowhere else on the part: told by the length run at each height. */
function chamfers(good: Good, moves: readonly Move[]): string | null {
  const sum = (list: readonly Move[]) => {
    const low = list.filter((m) => kindOf(good.job, m.tool)?.kind === 'chamfer cutter' && isKnown(m) && m.to.z < -0.05);
    return {
      length: low.filter((m) => m.kind !== 'rapid').reduce((s, m) => s + lengthOf(m), 0),
      low: Math.min(0, ...low.map((m) => m.to.z)),
    };
  };
  const [was, now] = [sum(courseOf(good.programs)), sum(moves)];
  if (was.length === 0) return null;
  if (now.low < was.low - 0.03) return `the chamfer cutter runs ${(was.low - now.low).toFixed(3)} too low`;
  return now.length < was.length - 4 ? `${(was.length - now.length).toFixed(1)} mm of chamfer are not run` : null;
}

/** The discs of mills over the middle of each tab of the good program, half a millimetre out from the edge and half its width to each side. */
function tabs(good: Good, moves: readonly Move[]): string | null {
  const text = good.programs[0]!.text;
  const unit = /\bG20\b/.test(text) ? 25.4 : 1;
  const bottom = -good.job.part.thickness;
  const cuts = moves.filter(
    (m) => isKnown(m) && m.kind !== 'rapid' && MILLS.includes(kindOf(good.job, m.tool)?.kind ?? ''),
  );
  for (const t of text.matchAll(/\(TAB (\d+) PART \d+ AT X(\S+) Y(\S+) DIRECTION (\S+) WIDTH (\S+) HEIGHT (\S+) /g)) {
    const [x, y, , width, height] = [t[2], t[3], t[4], t[5], t[6]].map((v) => Number(v) * unit) as [
      number,
      number,
      number,
      number,
      number,
    ];
    const a = (Number(t[4]) * Math.PI) / 180;
    const least = bottom + height - 0.06;
    const lower = cuts.filter((m) => Math.min(m.from.z, m.to.z) < least);
    for (const k of [-0.4, 0, 0.4]) {
      const p = {
        x: x + 0.5 * Math.cos(a) - k * width * Math.sin(a),
        y: y + 0.5 * Math.sin(a) + k * width * Math.cos(a),
      };
      const low = lowestOver(lower, p, good.job, least);
      if (low < least) return `tab ${t[1]} is cut to ${(low - bottom).toFixed(3)} for ${height}`;
    }
  }
  return null;
}

const STEP = 0.05;

/** How low below `least` the cutters come over a point; `least` itself where none does. */
function lowestOver(cuts: readonly Move[], p: P, job: Job, least: number): number {
  let low = least;
  for (const m of cuts) {
    const r = kindOf(job, m.tool)!.diameter / 2 - 0.02;
    if (Math.min(m.from.z, m.to.z) >= low || isBeyond(curveOf(m).box, p, r)) continue;
    const count = Math.max(1, Math.ceil(lengthOf(m) / STEP));
    for (let i = 0; i <= count; i++) {
      const q = pointOf(m, i / count);
      const d = Math.hypot(q.x - p.x, q.y - p.y);
      if (q.z < low && d < r) low = q.z;
      // Points of the move are no further apart than a step.
      if (d > r) i += Math.floor((d - r) / STEP);
    }
  }
  return low;
}
