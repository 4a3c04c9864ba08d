/** Solid things of the free view: cutter and shank, the holder, the clamps. */
import * as THREE from 'three';
import type { Clamp } from '../../../../part/part.ts';
import { type JawStrip, jawStrips } from '../../../jaws.ts';
import type { ViewCutter, ViewSetup, XYZ } from '../../data/view-data.ts';

export function cutterSolid(c: ViewCutter): THREE.Group {
  const r = c.diameter / 2;
  const pointed = c.pointDeg > 0 && c.pointDeg < 180;
  const flat = c.tip / 2;
  const cone = pointed ? (r - flat) / Math.tan((c.pointDeg * Math.PI) / 360) : 0;
  const flute = Math.max(c.fluteLength, cone);
  const cutting = turned([at(0, 0), at(pointed ? flat : 0, 0), at(r, cone), at(r, flute)], 0x8a8a8a, 0.75);
  const shank = turned([at(c.shank / 2, flute), at(c.shank / 2, Math.max(c.stickOut, flute))], 0xbdbdbd, 0.55);
  return new THREE.Group().add(cutting, shank);
}

/** Over the cutter it hides the work: faint, with its two rims drawn. */
export function holderSolid(c: ViewCutter): THREE.Group {
  const group = new THREE.Group();
  if (!c.holder) return group;
  const r = c.holder.diameter / 2;
  const [from, to] = [c.stickOut, c.stickOut + c.holder.length];
  return group.add(turned([at(0, from), at(r, from), at(r, to), at(0, to)], 0xe6e6e6, 0.1), rim(r, from), rim(r, to));
}

/** A point of a profile: radius and height. */
function at(r: number, z: number): THREE.Vector2 {
  return new THREE.Vector2(r, z);
}

function rim(r: number, z: number): THREE.LineLoop {
  const points = Array.from({ length: 64 }, (_, i) => {
    const a = (i * Math.PI) / 32;
    return new THREE.Vector3(r * Math.cos(a), r * Math.sin(a), z);
  });
  const material = new THREE.LineBasicMaterial({ color: 0x6e6e6e });
  return new THREE.LineLoop(new THREE.BufferGeometry().setFromPoints(points), material);
}

/** A profile turned about Z. */
function turned(profile: THREE.Vector2[], colour: number, opacity: number): THREE.Mesh {
  const geometry = new THREE.LatheGeometry(profile, 48);
  geometry.rotateX(Math.PI / 2);
  const look = { color: colour, transparent: true, opacity, side: THREE.DoubleSide, depthWrite: false };
  return new THREE.Mesh(geometry, new THREE.MeshLambertMaterial(look));
}

export function clampSolids(clamps: readonly Clamp[], stock: ViewStock): THREE.Group {
  const group = new THREE.Group();
  for (const [lo, hi] of clamps.flatMap((c) => boxesOf(c, stock))) {
    const box = new THREE.BoxGeometry(hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2]);
    const look = { color: 0xffffff, transparent: true, opacity: 0.35, depthWrite: false };
    const solid = new THREE.Mesh(box, new THREE.MeshBasicMaterial(look));
    const black = new THREE.LineBasicMaterial({ color: 0x000000 });
    solid.add(new THREE.LineSegments(new THREE.EdgesGeometry(box), black));
    solid.position.set((lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2, (lo[2] + hi[2]) / 2);
    group.add(solid);
  }
  return group;
}

type ViewStock = NonNullable<ViewSetup['stock']>;

/** Of jaws, only so much is drawn: they would hide the work. */
const JAW = 6;

/** Blocks stand on the stock; jaws stand beside it, up to its top. */
function boxesOf(c: Clamp, stock: ViewStock): (readonly [XYZ, XYZ])[] {
  const top = stock.max[2];
  const box = ([x0, y0, x1, y1]: JawStrip, from: number, to: number): [XYZ, XYZ] => [
    [x0, y0, from],
    [x1, y1, to],
  ];
  if (c.kind === 'block') return [box([...c.min, ...c.max], top, c.top)];
  return jawStrips({ axis: c.axis, grip: 0 }, stock, JAW).map((s) => box(s, stock.min[2] - JAW, top));
}
