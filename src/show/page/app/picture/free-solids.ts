/** Solid things of the free view: cutter and shank, the holder, the clamps. */
import * as THREE from 'three';
import type { ViewClamp, ViewCutter, XYZ } from '../../data/view-data.ts';

export function cutterSolid(c: ViewCutter): THREE.Group {
  const group = new THREE.Group();
  const r = c.diameter / 2;
  const pointed = c.pointDeg > 0 && c.pointDeg < 180;
  const flat = c.tip / 2;
  const cone = pointed ? (r - flat) / Math.tan((c.pointDeg * Math.PI) / 360) : 0;
  const flute = Math.max(c.fluteLength, cone);
  group.add(
    turned(
      [
        [0, 0],
        [pointed ? flat : 0, 0],
        [r, cone],
        [r, flute],
      ],
      0x8a8a8a,
      0.75,
    ),
  );
  group.add(
    turned(
      [
        [c.shank / 2, flute],
        [c.shank / 2, Math.max(c.stickOut, flute)],
      ],
      0xbdbdbd,
      0.55,
    ),
  );
  return group;
}

/** Over the cutter it hides the work: faint, with its two rims drawn. */
export function holderSolid(c: ViewCutter): THREE.Group {
  const group = new THREE.Group();
  if (!c.holder) return group;
  const r = c.holder.diameter / 2;
  const from = c.stickOut;
  const to = from + c.holder.length;
  group.add(
    turned(
      [
        [0, from],
        [r, from],
        [r, to],
        [0, to],
      ],
      0xe6e6e6,
      0.1,
    ),
    rim(r, from),
    rim(r, to),
  );
  return group;
}

function rim(r: number, z: number): THREE.LineLoop {
  const points = Array.from({ length: 64 }, (_, i) => {
    const a = (i * Math.PI) / 32;
    return new THREE.Vector3(r * Math.cos(a), r * Math.sin(a), z);
  });
  const material = new THREE.LineBasicMaterial({ color: 0x6e6e6e });
  return new THREE.LineLoop(new THREE.BufferGeometry().setFromPoints(points), material);
}

/** A profile of radius and height turned about Z. */
function turned(profile: readonly (readonly [number, number])[], colour: number, opacity: number): THREE.Mesh {
  const points = profile.map(([r, z]) => new THREE.Vector2(r, z));
  const geometry = new THREE.LatheGeometry(points, 48);
  geometry.rotateX(Math.PI / 2);
  const material = new THREE.MeshLambertMaterial({
    color: colour,
    transparent: true,
    opacity,
    side: THREE.DoubleSide,
    depthWrite: false,
  });
  return new THREE.Mesh(geometry, material);
}

export function clampSolids(clamps: readonly ViewClamp[], min: XYZ, max: XYZ): THREE.Group {
  const group = new THREE.Group();
  for (const [lo, hi] of clamps.flatMap((c) => boxesOf(c, min, max))) {
    const size = hi.map((v, i) => v - lo[i]!) as [number, number, number];
    const box = new THREE.BoxGeometry(...size);
    const material = new THREE.MeshBasicMaterial({
      color: 0xffffff,
      transparent: true,
      opacity: 0.35,
      depthWrite: false,
    });
    const solid = new THREE.Mesh(box, material);
    const edges = new THREE.LineSegments(
      new THREE.EdgesGeometry(box),
      new THREE.LineBasicMaterial({ color: 0x000000 }),
    );
    solid.add(edges);
    solid.position.set((lo[0] + hi[0]) / 2, (lo[1] + hi[1]) / 2, (lo[2] + hi[2]) / 2);
    group.add(solid);
  }
  return group;
}

/** Blocks stand on the stock; jaws stand beside it, up to its top. */
function boxesOf(c: ViewClamp, min: XYZ, max: XYZ): (readonly [XYZ, XYZ])[] {
  if (c.kind === 'block')
    return [
      [
        [c.min[0], c.min[1], max[2]],
        [c.max[0], c.max[1], c.top],
      ],
    ];
  const depth = 6;
  const z0 = min[2] - depth;
  return c.axis === 'x'
    ? [
        [
          [min[0] - depth, min[1], z0],
          [min[0], max[1], max[2]],
        ],
        [
          [max[0], min[1], z0],
          [max[0] + depth, max[1], max[2]],
        ],
      ]
    : [
        [
          [min[0], min[1] - depth, z0],
          [max[0], min[1], max[2]],
        ],
        [
          [min[0], max[1], z0],
          [max[0], max[1] + depth, max[2]],
        ],
      ];
}
