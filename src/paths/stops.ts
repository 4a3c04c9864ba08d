/** What the person is told at stops and cutter changes. */
import type { Operation, StopReason } from '../plan/plan.ts';
import { coordText, sizeText } from './head.ts';
import { cutterOf, type Scene } from './scene.ts';
import type { TouchOffPlace } from './travel/touch.ts';

export function changeLines(scene: Scene, op: Operation, touch: TouchOffPlace | null): string[] {
  const cutter = cutterOf(scene, op);
  // A tap is marked with its thread: M4 and 4 mm of another pitch are not one tap.
  const size = cutter.thread ?? sizeText(scene, cutter.diameter);
  const name = `cutter ${cutter.number}: ${cutter.kind} ${size}, stick out ${sizeText(scene, cutter.stickOut)}`;
  // Nothing is measured from a tap that a hand lowers.
  if (op.byHand) return [`Fit ${name}`, 'Put it in a chuck that turns freely by hand: it needs no touching off'];
  if (scene.post.lengths === 'table') return [`Fit ${name}`, 'Its length must be in the table'];
  if (touch === null) {
    return [
      `Fit ${name}`,
      `Touch off beside the work, level with the stock top: Z is ${coordText(scene, scene.heights.stockTop)} there`,
    ];
  }
  const { x, y } = touch.at;
  return [
    `Fit ${name}`,
    `Touch off on ${touch.on} at X ${coordText(scene, x)} Y ${coordText(scene, y)}: Z is ${coordText(scene, touch.z)} there`,
  ];
}

export function stopLines(stop: StopReason): readonly string[] {
  return stop.lines;
}
