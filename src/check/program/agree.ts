/** The head against the job: what a program says of itself must be what the job asked for. */

import { fixed } from '../../base/text.ts';
import { type Mm, toDeg } from '../../base/units.ts';
import { loopLength, pointAlong, positionOf } from '../../geometry/measure/loop.ts';
import { dist } from '../../geometry/measure/point.ts';
import { placePoint } from '../../geometry/measure/transform.ts';
import type { Point } from '../../geometry/types.ts';
import type { Job } from '../../part/part.ts';
import { LIMITS, TAB_DIRECTION_DEG, WRITTEN } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { faces, onNoTab, type Say } from '../wanted/on-edge.ts';
import type { WantedParts } from '../wanted/wanted.ts';
import type { Head, HeadTab } from './head.ts';
import { checkStubHead } from './stub-head.ts';

export function checkHead(head: Head, job: Job, wanted: WantedParts, program: number, out: Findings): void {
  const remedy = isBare(head) ? WRITE_HEAD : 'make the program again from this job';
  const say = (block: number, found: string, want: string, at?: Point) =>
    out.fault({
      code: 'head-disagrees',
      at: {
        program,
        block: block > 0 ? block : firstFact(head),
        ...(at === undefined ? {} : { at: [at.x, at.y] as const }),
      },
      found,
      wanted: want,
      remedy,
    });
  for (const u of head.unread) say(u.block, `cannot read the head's "${u.text}"`, 'the form that the head prescribes');
  checkFrameHead(head, job, say);
  checkHold(head, job, say);
  for (const tab of head.tabs) checkTab(tab, job, wanted, say);
  for (const [i, { number, block }] of head.tabs.entries())
    if (head.tabs.findIndex((t) => t.number === number) < i) say(block, `tab ${number} a second time`, 'each tab once');
  checkStubHead(head, job, wanted, say);
  for (const e of head.events) {
    const absent = e.kind === 'screws' ? e.holes.filter((h) => job.part.holes[h] === undefined) : [];
    if (absent.length > 0)
      say(e.block, `screws fitted in holes ${absent.join(', ')}`, 'holes of the job, counted from 0');
  }
}

/** Nothing of what every head states: whoever wrote the program, it was not made from a job. */
function isBare({ zero, stock, parts, hold }: Head): boolean {
  return zero === null && stock === null && parts.length === 0 && hold === null;
}

const WRITE_HEAD =
  'write comments ZERO, STOCK, PART, CUTTER, HOLD and TAB, as programs made from a job begin with, before the first move; or check it alone, without --job';

export function firstFact(head: Head): number {
  const facts = [...head.parts, ...head.cutters, ...head.tabs, ...head.stubs, head.hold, head.program];
  const blocks = facts.flatMap((f) => (f === null ? [] : f.block));
  return blocks.length === 0 ? 1 : Math.min(...blocks);
}

/** Zero, stock, places and cutters. */
export function checkFrameHead(head: Head, job: Job, say: Say): void {
  checkFrame(head, job, say);
  checkCutters(head, job, say);
}

function checkFrame(head: Head, job: Job, say: Say): void {
  if (head.zero === null) say(0, 'the head does not say where zero is', `(ZERO ${job.zero})`);
  else if (head.zero !== job.zero) say(0, `ZERO ${head.zero}`, `ZERO ${job.zero}`);
  if (head.stock === null) say(0, 'the head does not state the stock', '(STOCK X.. Y.. Z.. TO X.. Y.. Z..)');
  else {
    const off = [0, 1, 2].some(
      (i) => differs(head.stock!.min[i]!, job.stock.min[i]!) || differs(head.stock!.max[i]!, job.stock.max[i]!),
    );
    if (off)
      say(
        0,
        `stock ${show(head.stock.min)} to ${show(head.stock.max)}`,
        `${show(job.stock.min)} to ${show(job.stock.max)}`,
      );
  }
  if (head.parts.length !== job.places.length)
    say(0, `${head.parts.length} parts in the head`, `${job.places.length} parts`);
  for (const p of head.parts) {
    const place = job.places[p.number - 1];
    if (place === undefined) {
      say(p.block, `part ${p.number}`, `parts 1 to ${job.places.length}`);
      continue;
    }
    const turn = Math.abs(((p.turnDeg - toDeg(place.turn)) % 360) + 540) % 360;
    if (dist(p.at, place.at) > 2 * WRITTEN || Math.abs(turn - 180) > 0.001 || p.mirror !== place.mirror) {
      const want = `at X${fixed(place.at.x, 4)} Y${fixed(place.at.y, 4)} turn ${fixed(toDeg(place.turn), 4)} mirror ${place.mirror}`;
      say(p.block, `part ${p.number} stands elsewhere`, want, p.at);
    }
  }
}

function differs(a: Mm, b: Mm): boolean {
  return Math.abs(a - b) > WRITTEN;
}

function show(p: readonly Mm[]): string {
  return p.map((v) => fixed(v, 3)).join(' ');
}

function checkCutters(head: Head, job: Job, say: Say): void {
  for (const c of head.cutters) {
    const known = job.cutters.find((k) => k.number === c.number);
    if (known === undefined) say(c.block, `cutter ${c.number}`, 'a cutter of the job');
    else if (known.kind !== c.kind || differs(known.diameter, c.diameter)) {
      say(
        c.block,
        `cutter ${c.number} ${c.kind} D${fixed(c.diameter, 4)}`,
        `${known.kind} D${fixed(known.diameter, 4)}`,
      );
    }
  }
}

function checkHold(head: Head, job: Job, say: Say): void {
  const wish = job.hold;
  if (head.hold === null) {
    say(0, 'the head does not say what holds the part', '(HOLD ..)');
    return;
  }
  const { by, block, figure, thread } = head.hold;
  if (wish.by === 'auto') {
    // Glue's strength, a thread under the part, a stub's place: the job would have to state them, or nothing bears them out.
    if (by !== 'tabs' && by !== 'floor') say(block, `held by ${by}`, `tabs or a floor, or a job that asks for ${by}`);
    return;
  }
  if (by !== wish.by) say(block, `held by ${by}`, `held by ${wish.by}`);
  if (wish.by === 'floor' && figure !== null && figure < wish.thickness - WRITTEN) {
    say(block, `floor of ${fixed(figure, 3)}`, `a floor of ${fixed(wish.thickness, 3)}`);
  }
  if (wish.by === 'screws' && by === 'screws' && thread?.replace(/ /g, '') !== wish.thread.replace(/ /g, '')) {
    say(block, `screws ${thread ?? 'of no stated thread'}`, `screws ${wish.thread}`);
  }
  const tabs = wish.by === 'tabs' ? wish.tabs : wish.by === 'screws' ? wish.tabs : null;
  if (tabs === null) return;
  for (const [part, place] of job.places.entries()) {
    const mine = head.tabs.filter((t) => t.part === part);
    const count = tabs.count ?? tabs.at?.length ?? null;
    if (count !== null && mine.length < count) say(block, `${mine.length} tabs on part ${part + 1}`, `${count} tabs`);
    const height = tabs.lightenTo ?? tabs.height;
    for (const t of mine) {
      if (tabs.width !== null && t.width < tabs.width - WRITTEN)
        say(t.block, `tab ${t.number} is ${fixed(t.width, 3)} wide`, `${fixed(tabs.width, 3)}`, t.at);
      if (height !== null && t.height < height - WRITTEN)
        say(t.block, `tab ${t.number} is ${fixed(t.height, 3)} high`, `${fixed(height, 3)}`, t.at);
    }
    for (const at of tabs.at ?? []) {
      const p = placePoint(place, at);
      if (!mine.some((t) => dist(t.at, p) < ASKED_PLACE))
        say(block, `no tab on part ${part + 1} where one was asked for`, 'a tab there', p);
    }
  }
}

/** A place asked for is put on the edge; it may have been given off it by this much. */
const ASKED_PLACE: Mm = 1;

function checkTab(tab: HeadTab, job: Job, wanted: WantedParts, say: Say): void {
  const part = wanted.parts[tab.part];
  const spot = part === undefined ? undefined : positionOf(part.loop, tab.at);
  if (part === undefined || spot === undefined) {
    say(tab.block, `tab ${tab.number} on part ${tab.part + 1}`, `parts 1 to ${job.places.length}`, tab.at);
    return;
  }
  if (spot.distance > 0.01)
    say(
      tab.block,
      `tab ${tab.number} stands ${fixed(spot.distance, 3)} mm off the edge`,
      'a place on the edge',
      tab.at,
    );
  if (!(tab.width > 0 && tab.height > 0))
    say(tab.block, `tab ${tab.number} without size`, 'width and height above zero', tab.at);
  if (tab.footprint < tab.width - WRITTEN)
    say(tab.block, `footprint of tab ${tab.number} below its width`, 'at least the width', tab.at);
  const total = loopLength(part.loop);
  const { normal, off } = faces(part, spot.s, tab.directionDeg);
  if (off > TAB_DIRECTION_DEG) {
    say(
      tab.block,
      `tab ${tab.number} points to ${fixed(tab.directionDeg, 2)} degrees`,
      `the edge's normal, ${fixed(normal, 2)}`,
      tab.at,
    );
  }
  // A waist may end where the free edge begins, within the limit for an edge.
  const half = Math.max(0, tab.width / 2 - LIMITS.uncut);
  for (const s of [spot.s - half, spot.s, spot.s + half]) {
    const p = pointAlong(part.loop, ((s % total) + total) % total)?.point;
    if (p !== undefined && onNoTab(job, part, p)) {
      say(tab.block, `tab ${tab.number} stands on an edge that shall have none`, 'tabs elsewhere', tab.at);
      break;
    }
  }
}
