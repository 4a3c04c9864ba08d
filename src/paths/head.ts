/** The facts stated at the head of a program. */

import { short } from '../base/text.ts';
import { MM_PER_INCH, toDeg } from '../base/units.ts';
import type { Holding, Stub, Tab } from '../hold/holding.ts';
import type { Job } from '../part/part.ts';
import type { HeadFacts, HeadHold } from './moves.ts';
import type { Scene } from './scene.ts';

/** `cutters`: numbers used in this program, in order of use. `kept`: with the footprints that the path leaves. */
export function headOf(
  scene: Scene,
  program: HeadFacts['program'],
  cutters: readonly number[],
  cautions: readonly string[],
  kept: { readonly tabs: readonly Tab[]; readonly stubs: readonly Stub[] },
): HeadFacts {
  const { job, plan, holding } = scene;
  return {
    job: job.name,
    material: materialText(scene, job),
    program,
    zero: job.zero,
    stock: { min: job.stock.min, max: job.stock.max },
    parts: job.places.map((p) => ({ at: p.at, turnDeg: toDeg(p.turn), mirror: p.mirror })),
    cutters: cutters.map((n) => {
      const c = plan.cutters.find((x) => x.number === n)!;
      return { number: c.number, kind: c.kind, diameter: c.diameter };
    }),
    hold: holdOf(holding, kept.stubs),
    tabs: kept.tabs,
    cautions,
  };
}

export function materialText(scene: Scene, job: Job): string {
  return `${job.material}, ${sizeText(scene, job.part.thickness)} thick`;
}

function holdOf(h: Holding, stubs: readonly Stub[]): HeadHold {
  switch (h.by) {
    case 'tabs':
    case 'glue':
      return { by: h.by };
    case 'floor':
      return { by: 'floor', thickness: h.floor ?? 0 };
    case 'screws':
      return { by: 'screws', thread: h.screwThread ?? '' };
    case 'stub':
      return { by: 'stub', stubs };
  }
}

/** A length for a message, in the post's units. */
export function sizeText(scene: Scene, mm: number): string {
  return scene.post.units === 'mm' ? `${short(mm, 3)} mm` : `${short(mm / MM_PER_INCH, 4)} in`;
}

/** A coordinate for a message, without its unit. */
export function coordText(scene: Scene, mm: number): string {
  return scene.post.units === 'mm' ? short(mm, 3) : short(mm / MM_PER_INCH, 4);
}
