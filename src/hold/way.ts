/** One way of holding, as decided: where it acts and how large. Reckoned by `reckon`, whoever thought of it. */
import type { Mm, Newton } from '../base/units.ts';
import type { Axes } from '../mechanics/support/supports.ts';
import type { HoldKind } from './holding.ts';
import type { EdgePlace } from './scene/edge.ts';

export interface HoldWay {
  readonly by: HoldKind;
  /** Metal every pass leaves standing under the slot; 0: cut through. */
  readonly floor: Mm;
  readonly tabs: TabsWay | null;
  readonly screws: ScrewsWay | null;
  readonly glue: { readonly shear: number; readonly tension: number; readonly wetted: number } | null;
  readonly stub: { readonly place: EdgePlace; readonly width: Mm } | null;
}

export interface TabsWay {
  readonly width: Mm;
  readonly cutHeight: Mm;
  /** After the last light pass; as cut when not thinned. */
  readonly height: Mm;
  /** Part axes. */
  readonly places: readonly EdgePlace[];
}

export interface ScrewsWay {
  readonly holes: readonly number[];
  readonly thread: string;
  readonly major: Mm;
  readonly pitch: Mm;
  /** Low case of the preload, by hand. */
  readonly low: Newton;
  readonly friction: number;
  /** Radius of the clamped face round each hole. */
  readonly radius: Mm;
}

export const NO_WAY = { floor: 0, tabs: null, screws: null, glue: null, stub: null } as const;

export const LEVEL_AXES: Axes = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
