/** The published force constants of a material, in the form the force model takes. */
import { type ForceLaw, wearFactor } from '../mechanics/force-law.ts';
import type { Cutter } from '../part/part.ts';
import type { Material } from '../trade/materials.ts';

export function lawsOf(material: Material): readonly ForceLaw[] {
  return [
    ...material.kienzle.map((k): ForceLaw => ({ kind: 'kienzle', name: k.name, kc11: k.kc11, mc: k.mc })),
    ...material.mechanistic.map(
      (m): ForceLaw => ({
        kind: 'measured',
        name: m.name,
        ktc: m.Ktc,
        kte: m.Kte,
        krc: m.Krc,
        kre: m.Kre,
        kac: m.Kac > 0 ? m.Kac : null,
        kae: m.Kae,
      }),
    ),
  ];
}

export function wearOf(cutter: Cutter): number {
  return wearFactor(cutter.material);
}
