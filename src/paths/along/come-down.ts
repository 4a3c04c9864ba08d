import type { Mm, MmPerMin } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import type { Emitter } from '../emitter.ts';
import type { Scene } from '../scene.ts';

/** Over the place at a safe height, then straight down to z: fast in the air, as low as earlier cuts allow, then at `feed`. */
export function comeDown(em: Emitter, scene: Scene, to: Point, z: Mm, feed: MmPerMin): void {
  em.travelTo(scene, to);
  em.descend(scene.heights.feedFrom, z);
  em.feedZ(z, feed);
}
