/**
 * Cutters of the job, missing data filled in on the cautious side, each with the one effective diameter that plan, paths
 * and check use.
 */
import type { Mm } from '../../base/units.ts';
import type { Desk } from '../desk.ts';
import { threadOf } from '../hole.ts';
import type { Cutter, CutterKind, Finish } from '../part.ts';
import type { KeyPath } from '../schema/jsonc.ts';
import type { RawCutter } from '../schema/schema.ts';

/** `path`: where the list stands in its file. */
export function readCutters(raw: readonly RawCutter[], path: KeyPath, desk: Desk): Cutter[] {
  const seen = new Map<number, number>();
  return raw.flatMap((c, i) => {
    const here: KeyPath = [...path, i];
    const before = seen.get(c.number);
    if (before !== undefined) {
      desk.fault({
        code: 'cutter-number-twice',
        at: [...here, 'number'],
        found: `cutter ${c.number} is given twice`,
        wanted: 'one cutter a number',
        remedy: 'number one of them anew',
      });
    }
    seen.set(c.number, i);
    const cutter = readCutter(c, here, desk);
    return cutter === undefined ? [] : [cutter];
  });
}

/** Cutting on the edge with its side and flat-ended: what finishes an edge to size. */
export function isProfileCutter(kind: CutterKind): boolean {
  return kind === 'end mill' || kind === 'slot drill';
}

/**
 * The one correction for a part that came out wrong. The cutter's edge ran at half its believed diameter from the path;
 * an outside size that measures large by e (e/2 a side) shows that it cuts e less than believed, an inside size that
 * measures large shows that it cuts e more. (The part is one that was cut with the diameters as marked: a second measure
 * replaces the first, it is not added.) The correction goes to flat-ended cutters; one that was itself measured keeps
 * that figure, because both say the same thing and adding them would correct twice. Cutters come back with `diameter` changed.
 */
export function correctCutters(
  cutters: readonly Cutter[],
  measuredNumbers: ReadonlySet<number>,
  measured: Finish['measured'],
  desk: Desk,
): readonly Cutter[] {
  if (measured === null) return cutters;
  const path: KeyPath = ['finish', 'measured'];
  const error = measured.actual - measured.nominal;
  if (Math.abs(error) > MOST_CORRECTION) {
    desk.fault({
      code: 'correction-too-large',
      at: path,
      found: `the part is ${desk.say(Math.abs(error))} out`,
      wanted: `at most ${desk.say(MOST_CORRECTION)}: more is not a cutter's diameter`,
      remedy: 'look for a slipped part, a wrong cutter or a wrong zero',
    });
    return cutters;
  }
  const kept = cutters.filter((c) => isProfileCutter(c.kind) && measuredNumbers.has(c.number)).map((c) => c.number);
  if (kept.length > 0) {
    desk.caution({
      code: 'measured-twice',
      at: path,
      found: `finish.measured is given, and cutter ${kept.join(', ')} was itself measured`,
      wanted: 'one of the two for a cutter',
      remedy: 'the measured cutter is used as it is; take one of the two away',
    });
  }
  const change = measured.feature === 'outside' ? -error : error;
  return cutters.map((c) =>
    isProfileCutter(c.kind) && !measuredNumbers.has(c.number) ? { ...c, diameter: c.diameter + change } : c,
  );
}

/** Wear, runout and spring of a cutter together stay well below this (mm, common practice); beyond it something slipped. */
const MOST_CORRECTION: Mm = 0.3;

function readCutter(raw: RawCutter, path: KeyPath, desk: Desk): Cutter | undefined {
  const thread = raw.thread === undefined ? undefined : threadOf(raw.thread, [...path, 'thread'], desk);
  if (raw.kind === 'tap' && raw.thread === undefined) {
    desk.fault({
      code: 'tap-thread',
      at: path,
      found: `tap ${raw.number} does not say its thread`,
      wanted: 'the thread',
      remedy: 'add "thread": "M3"',
    });
    return undefined;
  }
  if (raw.kind !== 'tap' && raw.thread !== undefined) {
    desk.fault({
      code: 'key-not-for-cutter',
      at: [...path, 'thread'],
      found: `\`thread\` stands on a ${raw.kind}`,
      wanted: '`thread` only on a tap',
      remedy: 'take it away',
    });
  }
  const nominal = raw.diameter ?? thread?.major;
  if (nominal === undefined) {
    if (raw.kind !== 'tap')
      desk.fault({
        code: 'missing-key',
        at: path,
        found: `cutter ${raw.number} has no diameter`,
        wanted: 'its diameter as marked',
        remedy: 'add "diameter"',
      });
    return undefined;
  }
  const filled = fill(raw, nominal, thread?.pitch, desk);
  const cutter: Cutter = { ...filled, thread: thread?.name ?? null };
  checkCutter(raw, cutter, path, desk);
  return cutter;
}

function fill(raw: RawCutter, nominal: Mm, pitch: Mm | undefined, desk: Desk): Omit<Cutter, 'thread'> {
  const assumed: string[] = [];
  const orElse = <T>(given: T | undefined, fallback: T, words: string): T => {
    if (given !== undefined) return given;
    assumed.push(words);
    return fallback;
  };
  const kind = raw.kind;
  const usual = USUAL[kind];
  const flutes = orElse(raw.flutes, usual.flutes, `${usual.flutes} teeth`);
  const cuts = usual.cuts(nominal);
  const fluteLength = orElse(raw.fluteLength, cuts, `${desk.say(cuts)} of flute`);
  // Long on purpose: a longer stick-out bends more.
  const out = fluteLength + Math.max(10, nominal);
  const stickOut = orElse(raw.stickOut, out, `${desk.say(out)} of stick-out`);
  const shankWords = shankOf(kind, nominal);
  const shank = orElse(raw.shank, shankWords, `a ${desk.say(shankWords)} shank`);
  const material = orElse(raw.material, 'HSS' as const, 'of high-speed steel');
  const helixDeg = raw.helix ?? usual.helix;
  if (raw.helix === undefined && usual.helix !== 0) assumed.push(`a helix of ${usual.helix} degrees`);
  // Drills and their like go straight down by nature; of the mills only a slot drill may be trusted to.
  const isMill =
    kind === 'end mill' || kind === 'ball-nosed end mill' || kind === 'slot drill' || kind === 'chamfer cutter';
  const plunges = !isMill || kind === 'slot drill';
  const centreCutting = raw.centreCutting ?? plunges;
  if (raw.centreCutting === undefined && isMill) assumed.push(plunges ? 'centre cutting' : 'not centre cutting');
  const tip = raw.point ?? raw.angle;
  const pointDeg = tip ?? usual.point;
  if (tip === undefined && usual.point !== 180) assumed.push(`a point of ${usual.point} degrees`);
  const flatEnd = raw.tip ?? 0;
  if (raw.tip === undefined && kind === 'countersink') assumed.push('a sharp point, no flat');
  const leads = kind === 'reamer' || kind === 'tap';
  // A second tap: 4 to 6 threads of lead (ISO 8830 form D); a hand reamer's lead is a quarter of its diameter (common practice).
  const lead = leads
    ? orElse(raw.lead, kind === 'tap' ? 5 * (pitch ?? 0) : Math.max(1.5, nominal / 4), 'a long lead')
    : (raw.lead ?? 0);
  const holder = orElse(raw.holder, { diameter: 30, length: 40 }, `a holder ${desk.say(30)} by ${desk.say(40)}`);
  if (assumed.length > 0)
    desk.assume(`Cutter ${raw.number}, ${kind} ${desk.say(nominal)}: taken to have ${assumed.join(', ')}.`);
  return {
    ...{
      number: raw.number,
      kind,
      nominal,
      diameter: raw.measured ?? nominal,
      flutes,
      fluteLength,
      stickOut,
      shank,
      material,
    },
    ...{
      helixDeg,
      centreCutting,
      cornerRadius: raw.cornerRadius ?? 0,
      pointDeg,
      tip: flatEnd,
      lead,
      holder,
      fromDrawer: false,
    },
  };
}

interface Usual {
  readonly flutes: number;
  readonly helix: number;
  /** Included point angle, degrees. */
  readonly point: number;
  /** Length that cuts, of a diameter. */
  readonly cuts: (diameter: Mm) => Mm;
}

const twice = (d: Mm): Mm => Math.max(3, 2 * d);
const halfAcross = (d: Mm): Mm => d / 2;

/**
 * What a cutter of that kind has when the job is silent, common practice, on the cautious side: few teeth, short flutes
 * (the short series are 2 to 3 diameters long), drills of the jobber's series about 6 diameters and more.
 */
const USUAL: Readonly<Record<CutterKind, Usual>> = {
  'end mill': { flutes: 2, helix: 30, point: 180, cuts: twice },
  'ball-nosed end mill': { flutes: 2, helix: 30, point: 180, cuts: twice },
  'slot drill': { flutes: 2, helix: 30, point: 180, cuts: twice },
  'spot drill': { flutes: 2, helix: 0, point: 90, cuts: halfAcross },
  'centre drill': { flutes: 2, helix: 0, point: 60, cuts: halfAcross },
  drill: { flutes: 2, helix: 30, point: 118, cuts: (d) => Math.max(6, 6 * d) },
  reamer: { flutes: 6, helix: 0, point: 180, cuts: (d) => Math.max(10, 4 * d) },
  countersink: { flutes: 1, helix: 0, point: 90, cuts: halfAcross },
  counterbore: { flutes: 2, helix: 0, point: 180, cuts: twice },
  tap: { flutes: 3, helix: 0, point: 180, cuts: (d) => Math.max(6, 3 * d) },
  'chamfer cutter': { flutes: 2, helix: 0, point: 90, cuts: halfAcross },
};

function shankOf(kind: CutterKind, nominal: Mm): Mm {
  const mill = isProfileCutter(kind) || kind === 'ball-nosed end mill' || kind === 'chamfer cutter';
  return mill ? Math.max(6, nominal) : nominal;
}

function checkCutter(raw: RawCutter, c: Cutter, path: KeyPath, desk: Desk): void {
  if (c.fluteLength > c.stickOut) {
    desk.fault({
      code: 'flute-over-stick-out',
      at: [...path, 'fluteLength'],
      found: `${desk.say(c.fluteLength)} of flute, ${desk.say(c.stickOut)} of stick-out`,
      wanted: 'a stick-out at least as long as the flutes',
      remedy: 'measure both again; flutes inside the holder do not count',
    });
  }
  if (raw.point !== undefined && raw.angle !== undefined && raw.point !== raw.angle) {
    desk.fault({
      code: 'cutter-point',
      at: path,
      found: `point is ${raw.point} and angle is ${raw.angle} degrees`,
      wanted: 'one of the two',
      remedy: 'take one away',
    });
  }
  if (c.tip > 0 && c.kind !== 'countersink' && c.kind !== 'chamfer cutter') {
    desk.fault({
      code: 'key-not-for-cutter',
      at: [...path, 'tip'],
      found: `\`tip\` stands on a ${c.kind}`,
      wanted: '`tip` only on a countersink or chamfer cutter',
      remedy: 'take it away',
    });
  } else if (c.tip >= c.nominal) {
    desk.fault({
      code: 'cutter-tip',
      at: [...path, 'tip'],
      found: `a flat of ${desk.say(c.tip)} at the end of a cutter of ${desk.say(c.nominal)}`,
      wanted: 'a flat narrower than the cutter',
      remedy: 'measure the flat at its end',
    });
  }
  if (2 * c.cornerRadius > c.nominal) {
    desk.fault({
      code: 'corner-radius',
      at: [...path, 'cornerRadius'],
      found: `a corner of ${desk.say(c.cornerRadius)} on a cutter of ${desk.say(c.nominal)}`,
      wanted: 'at most half the diameter',
      remedy: 'mend it, or call it a ball-nosed end mill',
    });
  }
  if (Math.abs(c.diameter - c.nominal) > Math.max(MOST_CORRECTION, c.nominal / 10)) {
    desk.fault({
      code: 'correction-too-large',
      at: [...path, 'measured'],
      found: `measured ${desk.say(c.diameter)}, marked ${desk.say(c.nominal)}`,
      wanted: 'a measured diameter near the marked one',
      remedy: 'measure again, or give the right diameter',
    });
  }
}
