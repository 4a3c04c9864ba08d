/**
 * CONTRACT: what holds each part, and how well. Program coordinates; heights of tabs and floor count up from the part's
 * lower face (z = -thickness).
 */
import type { Deg, Hertz, Mm, Newton } from '../base/units.ts';
import type { Point } from '../geometry/types.ts';
import type { ForceSet, HeldState, OwnCompliance } from '../mechanics/held/held-state.ts';
import type { EdgeSpot } from '../mechanics/support/edge-spot.ts';

export const HOLD_KINDS = ['tabs', 'floor', 'screws', 'glue', 'stub'] as const;
export type HoldKind = (typeof HOLD_KINDS)[number];

export interface Holding {
  /** For a combination: the stiffest. */
  readonly by: HoldKind;
  /** Every tab left standing, whatever `by` says. */
  readonly tabs: readonly Tab[];
  /** Floor left under the part; null: cut through. */
  readonly floor: Mm | null;
  /** Indexes of the holes that carry screws; empty unless screws hold. */
  readonly screws: readonly number[];
  readonly screwThread: string | null;
  readonly glue: { readonly shear: number; readonly tension: number; readonly wetted: number } | null;
  /** One a part when stubs hold; else empty. */
  readonly stubs: readonly Stub[];
  /** Least width of the frame of stock round the parts. */
  readonly rail: Mm;
  readonly reasons: readonly string[];
  /** What was evaluated for this way of holding, for the course along the program. */
  readonly evaluation: Evaluation;
}

/** Each part's holding at every moment of the plan that loads its edge, ready to be asked. */
export interface Evaluation {
  readonly parts: readonly HeldPart[];
  readonly moments: readonly Moment[];
  /** Lowest natural frequencies of frame and part 0 on its finished holding; empty unless the holding is chosen. */
  readonly modes: readonly Hertz[];
  /** Length of a tab: from the part's edge to the frame. */
  readonly slotWidth: Mm;
  /** Nothing lies under the part: downward movement counts too. */
  readonly hollow: boolean;
}

export interface HeldPart {
  /** Evenly along the edge, counter-clockwise, program coordinates. */
  readonly spots: readonly (EdgeSpot & { readonly curvature: number })[];
  /** Places of its tabs, in the order they are thinned. */
  readonly tabSpots: readonly EdgeSpot[];
  readonly states: readonly PartState[];
}

export interface PartState {
  /** `solid 1.2 mm`, `on its tabs`, `2 tabs thinned`. */
  readonly name: string;
  readonly held: HeldState;
  /** One a spot. */
  readonly own: readonly OwnCompliance[];
}

export const MOMENT_KINDS = ['solid below', 'through', 'finishing', 'chamfer', 'lightening'] as const;

/** One pass along the edge (or over one tab), with its load and the state of the holding while it runs. */
export interface Moment {
  readonly kind: (typeof MOMENT_KINDS)[number];
  readonly operation: number;
  /** Index into the operation's depths; lightening: the tab. */
  readonly pass: number;
  /** Index into every part's states. */
  readonly state: number;
  /** Height of the force. */
  readonly z: Mm;
  /** On the part at the edge, and in the hollows of the edge where the cutter bites wider. */
  readonly forces: ForceSet;
  readonly hollowForces: ForceSet;
  readonly peak: Newton;
  readonly wanted: { readonly margin: number; readonly movement: Mm };
  readonly cutterDeflection: Mm;
}

export interface Tab {
  readonly part: number;
  /** On the part's edge, program coordinates. */
  readonly at: Point;
  /** Outward normal there, degrees counter-clockwise from X. */
  readonly directionDeg: Deg;
  /** Least waist. */
  readonly width: Mm;
  /** As left at the end. */
  readonly height: Mm;
  /** Before lightening; equal to `height` when not lightened. */
  readonly cutHeight: Mm;
  /** Length of edge not cut to full depth, ramps included. */
  readonly footprint: Mm;
}

/** Full thickness of stock left standing between a part and the frame. */
export interface Stub {
  readonly part: number;
  /** On the part's edge, program coordinates. */
  readonly at: Point;
  /** Outward normal there, degrees counter-clockwise from X. */
  readonly directionDeg: Deg;
  /** Least waist. */
  readonly width: Mm;
  /** Length of edge that no pass finishes: the waist, its two rounds and the room for coming on. */
  readonly footprint: Mm;
}

/** How well one way of holding does, against what is wanted. */
export interface HoldScore {
  /** `tabs`, `tabs, thinned`, `screws and tabs`. */
  readonly name: string;
  readonly by: HoldKind;
  readonly margin: { readonly least: number; readonly wanted: number };
  readonly movement: { readonly most: Mm; readonly wanted: Mm };
  readonly cutterDeflection: Mm;
  /** Bench minutes to clean up after. */
  readonly effortMinutes: number;
  /** Minutes that the machine stands for this way alone: tapping the backing and fitting screws; curing left out. */
  readonly stopMinutes: number;
  readonly verdict: string;
  /** Sequence, extra plates, why it cannot be used, what would make it do: a sentence each. */
  readonly reasons: readonly string[];
  readonly possible: boolean;
}
