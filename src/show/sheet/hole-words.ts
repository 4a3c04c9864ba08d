/** What a hole is, in words. */
import type { Hole, HoleMake } from '../../part/part.ts';
import { sized, type Units } from './figures.ts';

/** `ream 5 H7`, `tap M2.5`, `clear M2, medium`, with sinks. */
export function holeWords(u: Units, hole: Hole): string {
  const depth = hole.depth === null ? 'through' : `${sized(u, hole.depth)} deep`;
  const sink = hole.countersink
    ? `, countersunk to ${u.size(hole.countersink.diameter)} at ${hole.countersink.angle}°`
    : '';
  const bored = hole.counterbore
    ? `, counterbored ${u.size(hole.counterbore.diameter)}, ${sized(u, hole.counterbore.depth)} deep`
    : '';
  return `${makeWords(u, hole.make, hole.diameter)}, ${depth}${sink}${bored}`;
}

export function makeWords(u: Units, make: HoleMake, diameter: number): string {
  switch (make.kind) {
    case 'drill':
      return `drill ${u.size(diameter)}`;
    case 'ream':
      return `ream ${u.size(make.nominal)} ${make.fit}`;
    case 'tap':
      return `tap ${make.thread}`;
    case 'clear':
      return `clear ${make.screw}, ${make.series}`;
    case 'bore':
      return `bore ${u.size(make.nominal)}${make.fit === null ? '' : ` ${make.fit}`}`;
  }
}

/** Widest at the top: its countersink's or counterbore's diameter, or its own. */
export function mouthOf(hole: Hole): number {
  return Math.max(hole.diameter, hole.countersink?.diameter ?? 0, hole.counterbore?.diameter ?? 0);
}
