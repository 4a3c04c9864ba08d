/** The published force constants of a material, in the form the force model takes. */
import type { Material } from '../../trade/materials/materials.ts';
import type { ForceLaw } from './force-law.ts';

export function materialLaws(material: Material): readonly ForceLaw[] {
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
