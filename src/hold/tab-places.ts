/**
 * A simple, stated rule for where tabs go: flat or gently curved edge, clear of corners, far from each other. Places are
 * chosen one after another, each where it adds most to the least distance between any two, counting a place near a
 * corner or on a tight curve as nearer than it is.
 */
import type { Mm } from '../base/units.ts';
import { dist } from '../geometry/measure/point.ts';
import type { EdgePlace } from './edge.ts';

export function spreadPlaces(places: readonly EdgePlace[], count: number, cutter: Mm): readonly EdgePlace[] {
  if (places.length === 0) return [];
  let best: readonly EdgePlace[] = [];
  let bestScore = -Infinity;
  // The first place decides the rest: every eighth is tried.
  for (let first = 0; first < places.length; first += 8) {
    const chosen = grow(places, places[first]!, count, cutter);
    const score = scoreOf(chosen, cutter);
    if (score > bestScore + 1e-9) {
      best = chosen;
      bestScore = score;
    }
  }
  return [...best].sort((a, b) => a.s - b.s);
}

function grow(places: readonly EdgePlace[], first: EdgePlace, count: number, cutter: Mm): EdgePlace[] {
  const chosen = [first];
  while (chosen.length < count) {
    let next: EdgePlace | null = null;
    let nextScore = -Infinity;
    for (const p of places) {
      const score = Math.min(...chosen.map((c) => dist(c.at, p.at))) * ease(p, cutter);
      if (score > nextScore + 1e-9) {
        next = p;
        nextScore = score;
      }
    }
    if (!next) break;
    chosen.push(next);
  }
  return chosen;
}

function scoreOf(chosen: readonly EdgePlace[], cutter: Mm): number {
  let least = Infinity;
  for (let i = 0; i < chosen.length; i++) {
    for (let j = i + 1; j < chosen.length; j++) least = Math.min(least, dist(chosen[i]!.at, chosen[j]!.at));
  }
  const eases = chosen.map((c) => ease(c, cutter));
  return (Number.isFinite(least) ? least : 1) * (eases.reduce((a, b) => a + b, 0) / chosen.length);
}

/** 1 on a flat far from corners; less where a file finds no flat to follow or a corner is near. */
function ease(p: EdgePlace, cutter: Mm): number {
  const corner = Math.min(1, p.toCorner / cutter);
  const curve = 1 / (1 + p.curvature * cutter);
  return 0.25 + 0.75 * corner * curve;
}
