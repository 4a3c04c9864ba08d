/** Tabs as they are cut, with what follows from their shape alone: worked out once a shape, asked for at every moment. */
import { table } from '../../base/tables.ts';
import type { Mm } from '../../base/units.ts';
import { type SectionTable, sectionTable } from '../../mechanics/held/quick-stress.ts';
import { tabSections } from '../../mechanics/held/tab-stress.ts';
import type { ElasticModuli } from '../../mechanics/support/beam.ts';
import { tabFlexibility } from '../../mechanics/support/tab.ts';
import type { TabShape } from '../../mechanics/support/tab-shape.ts';
import type { HoldScene } from './scene.ts';

export interface TabModel {
  readonly shape: TabShape;
  /** Between walls as thick as the part. */
  readonly flexibility: Float64Array;
  /** For the judgement of a layout found. */
  readonly sections: SectionTable;
  /** For the search. */
  readonly fewSections: SectionTable;
}

/** As cut, by the thinnest plate: the smallest tab that can come out. */
export function tabModel(scene: HoldScene, width: Mm, height: Mm): TabModel {
  const { cutter, slotWidth } = scene;
  return scene.tables.once(TABS, [scene.metal, cutter.diameter, slotWidth, width, height], () => {
    const r = cutter.diameter / 2;
    const least = Math.max(0.05, height - scene.thinnest);
    return modelOf(scene, { waist: width, height: least, cutterRadius: r, slotWidth, frameRadius: r });
  });
}

/** The metal is the job's own, and with it the thickness of the plate. */
const TABS = table<[metal: ElasticModuli, cutter: Mm, slotWidth: Mm, width: Mm, height: Mm], TabModel>(
  'tabs by their size',
);

export function modelOf(scene: HoldScene, shape: TabShape): TabModel {
  const { metal, thickness } = scene;
  return {
    shape,
    flexibility: tabFlexibility(shape, metal, { part: thickness, frame: thickness }),
    sections: sectionTable(tabSections(shape, 10)),
    fewSections: sectionTable(tabSections(shape, 4)),
  };
}
