/** Every code of a finding, every statement of proof, and which fault speaks against which statement. */
import type { LanguageCaution, LanguageFault } from '../language/report.ts';

/** Statements of proof, as `Proof.what` has them. */
export type ProofName =
  | 'gouge'
  | 'rapids'
  | 'edge reached'
  | 'hole places'
  | 'tabs'
  | 'stubs'
  | 'clamps'
  | 'faces and floors'
  | 'still held'
  | 'feeds'
  | 'loads'
  | 'strength of what holds'
  | 'glue kept cool';

/** Where the text cannot be trusted, or says otherwise than what was measured, nothing of it is proven. */
const EVERYTHING = 'everything';

type Contradicted = readonly ProofName[] | typeof EVERYTHING;

const FEEDS = ['feeds', 'loads', 'strength of what holds', 'glue kept cool'] as const;
const HOLDING = ['still held', 'strength of what holds'] as const;
/** A rapid takes stock away that the field does not know of, and the cutter does not survive it. */
const STOCK = ['rapids', 'gouge', 'tabs', 'stubs', 'faces and floors', 'feeds', 'loads', ...HOLDING] as const;

/** Of each fault, save those of the language's 120 conditions: the statements that do not stand beside it. */
const CONTRADICTED = {
  'arc-sliver': EVERYTHING,
  'backing-hole': ['hole places', ...HOLDING],
  'chamfer-uncut': ['edge reached'],
  'clamp-hit': ['clamps', ...HOLDING],
  'compensation-unknown': EVERYTHING,
  'coolant-absent': EVERYTHING,
  'cutter-breaks': ['loads'],
  'cutter-unknown': EVERYTHING,
  'cuts-below': ['clamps', 'faces and floors'],
  'drill-sideways': EVERYTHING,
  'dwell-long': EVERYTHING,
  'edge-uncut': ['edge reached'],
  'face-uncut': ['edge reached', 'faces and floors'],
  'feed-above-machine': FEEDS,
  'feed-too-high': FEEDS,
  'feed-too-low': FEEDS,
  'floor-thin': ['faces and floors', ...HOLDING],
  'flutes-short': ['clamps', 'loads'],
  gouge: ['gouge'],
  'gouge-field': ['gouge', 'faces and floors'],
  'head-differs': EVERYTHING,
  'head-disagrees': EVERYTHING,
  'hold-weak': HOLDING,
  'holder-hits': EVERYTHING,
  'hole-place': ['hole places'],
  'hole-uncut': ['edge reached', 'hole places'],
  'length-unknown': EVERYTHING,
  'line-optional': EVERYTHING,
  'message-cutter': EVERYTHING,
  'message-differs': EVERYTHING,
  'mode-not-stated': EVERYTHING,
  'no-feed': FEEDS,
  'no-hole-before': ['hole places', 'loads'],
  'offcut-loose': HOLDING,
  'offset-unknown': EVERYTHING,
  'outline-differs': ['gouge', 'edge reached', 'tabs', 'stubs'],
  'part-loose': HOLDING,
  plunge: ['loads'],
  'pocket-uncut': ['edge reached'],
  'position-unknown': EVERYTHING,
  power: ['loads', 'strength of what holds', 'glue kept cool'],
  'probe-move': EVERYTHING,
  'program-order': EVERYTHING,
  'ramp-steep': EVERYTHING,
  'rapid-in-stock': STOCK,
  'rapid-plunge': STOCK,
  'screw-hit': HOLDING,
  'shank-rubs': EVERYTHING,
  'speed-outside-machine': EVERYTHING,
  'speed-too-high': ['feeds', 'loads'],
  'spindle-off': EVERYTHING,
  'spindle-reverse': EVERYTHING,
  'stop-low': EVERYTHING,
  'stop-missing': EVERYTHING,
  'stop-spindle-on': EVERYTHING,
  'stop-untold': EVERYTHING,
  'stub-width': ['stubs', 'edge reached', ...HOLDING],
  'tab-footprint': ['tabs', 'stubs', 'edge reached', ...HOLDING],
  'tab-height': ['tabs', ...HOLDING],
  'tab-width': ['tabs', ...HOLDING],
  // Too weak is no other shape, and no stock less: what stands, and that it hangs together, is measured all the same.
  'tabs-weak': ['tabs', 'strength of what holds'],
  'tap-feed': ['hole places', ...FEEDS],
  'tap-unguided': ['hole places', 'loads'],
  'too-many-pecks': EVERYTHING,
  'too-many-problems': EVERYTHING,
  'too-many-repeats': EVERYTHING,
  'touch-off': EVERYTHING,
  travel: EVERYTHING,
  'value-out-of-range': EVERYTHING,
} as const satisfies Readonly<Record<Exclude<LanguageFault, ConditionCode>, Contradicted>> &
  Readonly<Record<string, Contradicted>>;

type ConditionCode = `rs274-${number}`;
export type FaultCode = ConditionCode | keyof typeof CONTRADICTED;

/** Told beside a program that may still be good; some are faults where it is worse. */
export type CautionCode =
  | LanguageCaution
  | 'dwell-long'
  | 'feed-too-low'
  | 'hold-weak'
  | 'mode-not-stated'
  | 'offcut-loose'
  | 'stop-untold'
  | 'tabs-weak'
  | 'after-end'
  | 'between-parallels'
  | 'comment-like-fact'
  | 'drilled-again'
  | 'frame-weak'
  | 'not-tapped'
  | 'peck-small'
  | 'rapid-close'
  | 'ream-rapid-out'
  | 'slot-deep';

export type NoteCode = 'corner-left-round' | 'more-of-a-kind';

export type FindingCode = FaultCode | CautionCode | NoteCode;

export function contradicts(code: FaultCode, what: ProofName): boolean {
  const stated = contradictedBy(code);
  return stated !== EVERYTHING && stated.includes(what);
}

export function leavesAllOpen(code: FaultCode): boolean {
  return contradictedBy(code) === EVERYTHING;
}

function contradictedBy(code: FaultCode): Contradicted {
  return isCondition(code) ? EVERYTHING : CONTRADICTED[code];
}

function isCondition(code: FaultCode): code is ConditionCode {
  return code.startsWith('rs274-');
}
