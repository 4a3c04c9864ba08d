/** Tabs as they are cut, with what follows from their shape alone: worked out once a shape, asked for at every moment. */
import type { Mm } from '../../base/units.ts';
import { type TabSection, tabSections } from '../../mechanics/held/tab-stress.ts';
import { tabFlexibility } from '../../mechanics/support/tab.ts';
import type { TabShape } from '../../mechanics/support/tab-shape.ts';
import type { HoldScene } from './scene.ts';

/** As cut, by the thinnest plate: the smallest tab that can come out. */
export function tabShapeOf(scene: HoldScene, width: Mm, height: Mm): TabShape {
  const key = `${width} ${height}`;
  const known = shapesOf.get(scene) ?? new Map<string, TabShape>();
  shapesOf.set(scene, known);
  let shape = known.get(key);
  if (shape === undefined) {
    const r = scene.cutter.diameter / 2;
    shape = {
      waist: width,
      height: Math.max(0.05, height - scene.thinnest),
      cutterRadius: r,
      slotWidth: scene.slotWidth,
      frameRadius: r,
    };
    known.set(key, shape);
  }
  return shape;
}

const shapesOf = new WeakMap<HoldScene, Map<string, TabShape>>();

/** Between walls as thick as the part. */
export function flexibilityOf(shape: TabShape, scene: HoldScene): Float64Array {
  const known = flexibilities.get(shape);
  if (known?.metal === scene.metal) return known.flexibility;
  const flexibility = tabFlexibility(shape, scene.metal, { part: scene.thickness, frame: scene.thickness });
  flexibilities.set(shape, { metal: scene.metal, flexibility });
  return flexibility;
}

const flexibilities = new WeakMap<
  TabShape,
  { readonly metal: HoldScene['metal']; readonly flexibility: Float64Array }
>();

export function sectionsOf(shape: TabShape, perFlare: number): readonly TabSection[] {
  const known = sections.get(shape) ?? new Map<number, readonly TabSection[]>();
  sections.set(shape, known);
  let found = known.get(perFlare);
  if (found === undefined) {
    found = tabSections(shape, perFlare);
    known.set(perFlare, found);
  }
  return found;
}

const sections = new WeakMap<TabShape, Map<number, readonly TabSection[]>>();

/** Sections to either flare when a layout found is judged. */
export const FINE = 10;
