/** Friction, adhesives, safety factors and small-part practice for holding. Newtons, millimetres, N/mm2. */
import { type Figure, type FigureRange, figure, type Sourced, span } from './source.ts';

export type JawFace = 'smooth' | 'diamond serrated' | 'claw serrated';
export type PartFace = 'ground' | 'machined' | 'unmachined';

const RN_1391 = 'Roehm clamping-force standard RN-1391 p. 44';
const mu = (ground: number, machined: number, unmachined: number): Readonly<Record<PartFace, Figure>> => ({
  ground: figure(ground, RN_1391, 'published'),
  machined: figure(machined, RN_1391, 'published'),
  unmachined: figure(unmachined, RN_1391, 'published'),
});

/** Friction of a steel jaw or clamp on a steel part; multiply by the material's `frictionFactor`. */
export const FRICTION: Readonly<Record<JawFace, Readonly<Record<PartFace, Figure>>>> = {
  smooth: mu(0.07, 0.1, 0.15),
  'diamond serrated': mu(0.12, 0.2, 0.3),
  'claw serrated': mu(0.2, 0.35, 0.45),
};

export interface BondStrength extends Sourced {
  readonly pair: string;
  /** Lap shear, N/mm2. */
  readonly shear: number;
}
const bond = (pair: string, shear: number): BondStrength => ({
  pair,
  shear,
  source: 'Petrie, Handbook of Adhesives and Sealants p. 390 Table 10.16',
  mark: 'published',
});
const STEEL_SOON = bond('steel, 10 min', 13.2);

/** The joint that lap shear is tested on, steel on steel: plates and overlap, mm, and strength after ten minutes, N/mm2. */
export const LAP_SPECIMEN = {
  thickness: figure(1.6, 'ISO 4587', 'from memory'),
  overlap: figure(12.5, "ISO 4587, as printed in a maker's table", 'published'),
  strength: figure(STEEL_SOON.shear, STEEL_SOON.source, STEEL_SOON.mark),
} as const;

const BOND_PRACTICE = 'catalogue lap shear derated 5-10 times, clean ground faces';
/** What may be asked of a glued plate: shear and tension as means, spread as under a stiff part. */
export const GLUE_ALLOWABLE = {
  shear: figure(2, BOND_PRACTICE, 'common practice'),
  tension: figure(1, BOND_PRACTICE, 'common practice'),
  /**
   * Lift on a millimetre of edge. The figure names no thickness of plate, and a thick one bears more of it than a thin one; it is
   * taken as it stands for every plate (safe side), beside the film's own stress at the rim (`hold/rim-strength.ts`).
   */
  peelLine: figure(1, BOND_PRACTICE, 'common practice'),
  wetted: span(0.5, 0.7, 'large faces are wetted in bands so that they come free', 'common practice'),
  gapThin: figure(0.05, 'Handbook of Adhesive Technology, cyanoacrylate chapter, thin grade', 'published'),
  /** Degrees Celsius. */
  softens: figure(80, 'adhesive data sheets', 'from memory'),
  releases: span(150, 200, 'adhesive data sheets', 'from memory'),
} as const;

/** Margins wanted. Ranges as practised; `value` is the one this program asks for. */
export const WANTED_MARGIN: Readonly<
  Record<'tab finishing' | 'tab roughing' | 'brittle' | 'slip' | 'glue', Figure & { readonly range: FigureRange }>
> = {
  'tab finishing': wanted(2, 2, 3, 'ductile tab on yield, finishing pass'),
  'tab roughing': wanted(3, 3, 4, 'ductile tab on yield, roughing or unsure force'),
  brittle: wanted(4, 4, 5, 'grey iron on Rm'),
  slip: wanted(2, 2, 3, 'friction on slip; 2.5-3 for interrupted milling'),
  // On an allowable that is already derated 5-10 times.
  glue: wanted(1, 1, 1, 'adhesive on its derated allowable'),
};

/** Movement of the part under load that may be allowed, mm. */
export const WANTED_MOVEMENT: Readonly<Record<'finishing' | 'roughing', Figure>> = {
  finishing: figure(0.02, 'elastic movement of held work', 'common practice'),
  roughing: figure(0.05, 'elastic movement of held work', 'common practice'),
};

const TABS = 'small-part practice';
export const TAB_RULES = {
  leastCount: figure(3, TABS, 'common practice'),
  /** Distance along the edge to the next tab on parts under 60 mm and on larger ones. */
  spacingSmall: span(15, 25, TABS, 'common practice'),
  spacingLarge: span(40, 80, TABS, 'common practice'),
  height: span(0.5, 1.5, TABS, 'common practice'),
  heightOfThickness: span(0.1, 0.3, TABS, 'common practice'),
  leastHeight: figure(0.3, TABS, 'common practice'),
  waistSmallCutter: span(1, 3, `${TABS}, cutters to 4 mm`, 'common practice'),
  waistLargeCutter: span(2, 5, `${TABS}, cutters of 6 mm`, 'common practice'),
  /** Distance from corners, in cutter diameters. */
  fromCorner: figure(1, TABS, 'common practice'),
  feedOverTabs: figure(0.5, TABS, 'common practice'),
  witness: span(0.1, 0.2, TABS, 'common practice'),
} as const;

export const FLOOR_RULES = {
  thickness: span(0.1, 0.3, TABS, 'common practice'),
  usual: figure(0.2, TABS, 'common practice'),
  cutIntoBacking: span(0.1, 0.3, TABS, 'common practice'),
} as const;

/** Slots deeper than a diameter are opened by this much so that chips get out. */
export const SLOT_WIDENING: FigureRange = span(0.3, 0.5, TABS, 'common practice');

function wanted(value: number, low: number, high: number, source: string): Figure & { readonly range: FigureRange } {
  return { ...figure(value, source, 'common practice'), range: span(low, high, source, 'common practice') };
}
