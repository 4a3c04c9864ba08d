/**
 * Where the teeth of a helical cutter are and the sums over their engaged length that every force law shares:
 * c, s, p = sum of h^power times (cos phi, sin phi, 1) over the engaged edge in mm; c0, s0, p0 the same without h.
 */
import { cosine, sine, tangent } from '../../base/angles.ts';
import { power } from '../../base/powers.ts';
import type { Mm, Rad } from '../../base/units.ts';
import { eachGauss } from '../math/quadrature.ts';
import type { MillingCut } from './cut.ts';

export interface ToothSums {
  c: number;
  s: number;
  p: number;
  c0: number;
  s0: number;
  p0: number;
}

export interface CutFrame {
  readonly cut: MillingCut;
  readonly pitch: Rad;
  /** Angle by which the edge at depth ap trails the tip. Its sign is dropped: a left-hand edge leads by as much, which only shifts time. */
  readonly lag: Rad;
  /** Angle through which any bit of one tooth is in metal. */
  readonly reach: Rad;
  readonly axialSign: 1 | -1;
  readonly bigFeed: Mm;
  meanSums(power: number): ToothSums;
}

export function cutFrame(cut: MillingCut): CutFrame {
  const { from, to } = cut.span;
  const lag = Math.abs((2 * cut.ap * tangent(cut.helix)) / cut.diameter);
  return {
    cut,
    pitch: (2 * Math.PI) / cut.teeth,
    lag,
    reach: to - from + lag,
    axialSign: cut.helix < 0 ? -1 : 1,
    bigFeed: Math.min(cut.teeth * cut.toothFeed, cut.toothFeed + cut.runout),
    meanSums: (power) => meanSums(cut, power),
  };
}

/** Sums over all teeth when the tip of tooth 0 (the one with the runout) stands at theta. */
export function toothSums(frame: CutFrame, power: number, theta: Rad): ToothSums {
  const { cut, pitch, lag } = frame;
  const sums: ToothSums = { c: 0, s: 0, p: 0, c0: 0, s0: 0, p0: 0 };
  const first = Math.ceil((theta - (cut.span.to + lag)) / pitch);
  const last = Math.floor((theta - cut.span.from) / pitch);
  for (let k = first; k <= last; k++) {
    const feed = k % cut.teeth === 0 ? frame.bigFeed : cut.toothFeed;
    addTooth(frame, power, theta - k * pitch, feed, sums);
  }
  return sums;
}

/**
 * Events are looked at this much before and after (radians), never on the spot: one tooth may leave as another enters, and
 * both at once would be a state that never is. Far above rounding, far below any force worth telling.
 */
const BESIDE = 1e-7;
/** Below this lag (radians) the edge is taken as straight: its forces differ by less than a part in 1e6. */
const STRAIGHT = 1e-6;

function addTooth(frame: CutFrame, power: number, tip: Rad, feed: Mm, sums: ToothSums): void {
  const { cut, lag } = frame;
  const hi = Math.min(cut.span.to, tip);
  const lo = Math.max(cut.span.from, tip - lag);
  if (lag < STRAIGHT) {
    add(sums, power, Math.min(Math.max(tip, cut.span.from), cut.span.to), feed, cut.ap);
  } else if (hi > lo) {
    const perAngle = cut.ap / lag;
    eachGauss(lo, hi, (phi, weight) => add(sums, power, phi, feed, weight * perAngle));
  }
}

function add(sums: ToothSums, exponent: number, phi: Rad, feed: Mm, length: number): void {
  const cos = cosine(phi);
  const sin = sine(phi);
  const chip = length * power(Math.max(0, feed * sin), exponent);
  sums.c += chip * cos;
  sums.s += chip * sin;
  sums.p += chip;
  sums.c0 += length * cos;
  sums.s0 += length * sin;
  sums.p0 += length;
}

/** Mean over a turn: teeth/(2 pi) times the integral over the span. 24 panels bring h^0.75 at phi = 0 below 1e-6. */
function meanSums(cut: MillingCut, power: number): ToothSums {
  const sums: ToothSums = { c: 0, s: 0, p: 0, c0: 0, s0: 0, p0: 0 };
  const panels = 24;
  const width = (cut.span.to - cut.span.from) / panels;
  const length = (cut.teeth * cut.ap) / (2 * Math.PI);
  for (let i = 0; i < panels; i++) {
    const lo = cut.span.from + i * width;
    eachGauss(lo, lo + width, (phi, weight) => add(sums, power, phi, cut.toothFeed, weight * length));
  }
  return sums;
}

/**
 * Angles of tooth 0's tip over its whole pass, no further apart than `step`, with every angle at which a tooth's tip or
 * its trailing end enters or leaves (looked at just before and just after): there the force jumps (straight teeth) or turns.
 */
export function cutAngles(frame: CutFrame, step: Rad): readonly Rad[] {
  const { span } = frame.cut;
  const start = span.from + BESIDE;
  const end = span.to + frame.lag - BESIDE;
  const count = Math.max(1, Math.ceil(frame.reach / step - BESIDE));
  const angles = Array.from({ length: count + 1 }, (_, i) => start + ((end - start) * i) / count);
  for (const event of [span.from, span.to, span.from + frame.lag, span.to + frame.lag]) {
    for (let k = Math.ceil((start - event) / frame.pitch); event + k * frame.pitch < end; k++) {
      const at = event + k * frame.pitch;
      angles.push(Math.min(end, at + BESIDE));
      // A helical edge comes in and goes out gradually: one look is enough.
      if (frame.lag < STRAIGHT) angles.push(Math.max(start, at - BESIDE));
    }
  }
  angles.sort((a, b) => a - b);
  return angles.filter((a, i) => i === 0 || a - angles[i - 1]! > BESIDE / 2);
}
