/** Mass of a part, from the polygon of its spots: for frequencies, a few per cent are enough. */
import { cube } from '../../base/powers.ts';
import type { PartMass } from '../../mechanics/plate/condensed-modes.ts';
import type { HoldScene } from './scene.ts';

export function massOf(scene: HoldScene, index: number): PartMass {
  const part = scene.parts[index]!;
  const { x: cx, y: cy } = part.centre;
  let area = 0;
  let ixx = 0;
  let iyy = 0;
  let ixy = 0;
  part.spots.forEach((a, i) => {
    const b = part.spots[(i + 1) % part.spots.length]!;
    const [ax, ay, bx, by] = [a.x - cx, a.y - cy, b.x - cx, b.y - cy];
    const w = ax * by - bx * ay;
    area += w / 2;
    ixx += (w * (ay * ay + ay * by + by * by)) / 12;
    iyy += (w * (ax * ax + ax * bx + bx * bx)) / 12;
    ixy += (w * (ax * by + 2 * ax * ay + 2 * bx * by + bx * ay)) / 24;
  });
  const t = scene.thickness;
  const rho = scene.density;
  const thick = (area * cube(t)) / 12;
  return {
    mass: rho * area * t,
    centre: [cx, cy, scene.bottom / 2],
    inertia: [
      rho * (ixx * t + thick),
      -rho * ixy * t,
      0,
      -rho * ixy * t,
      rho * (iyy * t + thick),
      0,
      0,
      0,
      rho * t * (ixx + iyy),
    ],
  };
}
