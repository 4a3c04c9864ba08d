/** In words, what holds the part at this moment, read off the field: how much of the edge is still joined, and each tab's height. */
import { short } from '../../../base/text.ts';
import { toRad } from '../../../base/units.ts';
import { fromAngle, step } from '../../../geometry/measure/point.ts';
import { directionAt, pointAt, segmentLength } from '../../../geometry/measure/segment.ts';
import type { ViewData, ViewPart, ViewTab, XYZ } from '../data/view-data.ts';
import { loopOf } from '../worker/wanted-field.ts';
import type { FieldNow, Store } from './store.ts';

/** Stock this thin counts as gone (the check's own figure for a way that holds). */
const GONE = 0.05;
/** Looked at this far outside the edge: beyond the finishing allowance's rounding, within the narrowest slot. */
const OUTSIDE = 0.5;
const SAMPLES = 400;

export function supportWords(store: Store): string[] {
  const { data, moment } = store;
  const { field, program } = store.state;
  const { at } = moment;
  if (store.program.view.setup > 0)
    return ['The part stands on edge between jaws, drawn as the block that it lies in; the sheet shows how it stands.'];
  if (data.thickness === null || data.parts.length === 0) return ['No job was given, so nothing is known of the part.'];
  if (field === null) return ['The stock at this moment is still being worked out.'];
  const index = nearestPart(data.parts, at);
  const besides = data.besides
    .map((b) => (program > b.program || (program === b.program && moment.block >= b.block) ? b.words : b.before))
    .filter((w) => w !== '');
  return [...edgeWords(data, field, index, at), ...besides];
}

function edgeWords(data: ViewData, field: FieldNow, index: number, at: XYZ): string[] {
  const name = data.parts.length > 1 ? `Part ${index + 1}` : 'The part';
  const thickness = data.thickness!;
  const share = joinedShare(data.parts[index]!, field, thickness);
  if (share.joined >= 0.999 * share.length) {
    return share.least > thickness - GONE
      ? [`${name} is still whole stock all round; only the clamps matter here.`]
      : [`${name} is nowhere cut through yet: at least ${short(share.least, 2)} mm of metal stand all round.`];
  }
  const words = [
    `${name}: ${short(share.joined, 1)} of ${short(share.length, 1)} mm of edge are still joined to the frame.`,
  ];
  const tabs = data.tabs.map((t, i) => ({ t, i, away: Math.hypot(t.at[0] - at[0], t.at[1] - at[1]) }));
  const own = tabs.filter(({ t }) => t.part === index).sort((a, b) => a.away - b.away);
  for (const { t, i, away } of own)
    words.push(`Tab ${i + 1}, ${short(away, 1)} mm from the cutter: ${tabWords(t, field, thickness)}`);
  if (data.floor !== null) words.push(`A floor of ${short(data.floor)} mm stays under the part.`);
  return words;
}

function nearestPart(parts: readonly ViewPart[], at: XYZ): number {
  const away = parts.map((p) => Math.min(...p.outline.map((s) => Math.hypot(s[0] - at[0], s[1] - at[1]))));
  return away.indexOf(Math.min(...away));
}

interface JoinedEdge {
  readonly joined: number;
  readonly length: number;
  /** Lowest standing height met, counted from the part's lower face. */
  readonly least: number;
}

/** Length of the outline outside which stock still stands. */
function joinedShare(part: ViewPart, field: FieldNow, thickness: number): JoinedEdge {
  const loop = loopOf(part.outline);
  const length = loop.reduce((n, s) => n + segmentLength(s), 0);
  let joined = 0;
  let least = Infinity;
  for (const s of loop) {
    const own = segmentLength(s);
    const n = Math.max(2, Math.round((SAMPLES * own) / length));
    for (let i = 0; i < n; i++) {
      const p = pointAt(s, (i + 0.5) / n);
      const d = directionAt(s, (i + 0.5) / n);
      const h = heightAt(field, p.x + d.y * OUTSIDE, p.y - d.x * OUTSIDE);
      if (h === null) continue;
      least = Math.min(least, h + thickness);
      if (h > -thickness + GONE) joined += own / n;
    }
  }
  return { joined, length, least };
}

function tabWords({ at, directionDeg, width }: ViewTab, field: FieldNow, thickness: number): string {
  const outside = step({ x: at[0], y: at[1] }, fromAngle(toRad(directionDeg)), OUTSIDE);
  const h = heightAt(field, outside.x, outside.y);
  if (h === null) return 'outside the stock.';
  const high = h + thickness;
  if (high <= GONE) return 'cut away.';
  if (high > thickness - GONE) return 'not cut yet, full stock.';
  return `${short(high, 2)} mm high and at least ${short(width, 2)} mm wide.`;
}

/** Height of the field at a place; null outside it. */
export function heightAt(field: FieldNow, x: number, y: number): number | null {
  const { cols, rows, cell, x0, y0 } = field.shape;
  const c = Math.floor((x - x0) / cell);
  const r = Math.floor((y - y0) / cell);
  return c < 0 || r < 0 || c >= cols || r >= rows ? null : field.heights[r * cols + c]!;
}
