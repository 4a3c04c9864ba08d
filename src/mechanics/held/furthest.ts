/** Of many force vectors the few that can decide. */
import { cosine, sine } from '../../base/angles.ts';
import type { Vector } from '../cutting/cut.ts';

/**
 * The force vectors (triples) that reach furthest in some direction: the others never decide a linear answer. Directions
 * are spread over the sphere `step` radians apart; what is lost between them is under 1 - cos(step/sqrt 2) (1.5 % at pi/8).
 */
export function furthest(forces: Float64Array, step: number = Math.PI / 8): Float64Array {
  const kept = new Set<number>();
  for (const [x, y, z] of sphere(step)) {
    let best = -1;
    let most = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < forces.length; i += 3) {
      const d = x * forces[i]! + y * forces[i + 1]! + z * forces[i + 2]!;
      if (d > most) {
        most = d;
        best = i;
      }
    }
    if (best >= 0) kept.add(best);
  }
  return Float64Array.from(
    [...kept].sort((a, b) => a - b).flatMap((i) => [forces[i]!, forces[i + 1]!, forces[i + 2]!]),
  );
}

function sphere(step: number): readonly Vector[] {
  const out: Vector[] = [];
  const rings = Math.round(Math.PI / 2 / step);
  for (let i = -rings; i <= rings; i++) {
    const up = (i * Math.PI) / 2 / rings;
    const count = Math.max(1, Math.round((2 * Math.PI * cosine(up)) / step));
    for (let k = 0; k < count; k++) {
      const turn = (2 * Math.PI * k) / count;
      out.push([cosine(up) * cosine(turn), cosine(up) * sine(turn), sine(up)]);
    }
  }
  return out;
}
