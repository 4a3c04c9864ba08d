/** Outlines other than plates and levers: angles with an inside corner, links with round ends, discs. */
import type { Draw } from './draw.ts';
import { round } from './draw.ts';
import type { Drawn } from './random-job.ts';

export function shapePart(draw: Draw, thickness: number, has: Set<string>): Drawn {
  const kind = draw.one(['angle', 'link', 'disc'] as const);
  has.add(kind);
  return { angle, link, disc }[kind](draw, thickness, has);
}

/** Two arms, the corner between them sharp or filled. */
function angle(draw: Draw): Drawn {
  const [long, high] = [draw.between(24, 50, 1), draw.between(16, 30, 1)];
  const arm = draw.between(6, 9, 0.5);
  const vertices = [
    [0, 0],
    [long, 0],
    [long, arm],
    [arm, arm],
    [arm, high],
    [0, high],
  ];
  const hole = (x: number, y: number) => ({ at: [round(x), round(y)], drill: draw.between(1, 3, 0.1) });
  const holes = [hole(long - 4, arm / 2), hole(arm / 2, high - 4)];
  return { outline: { vertices }, holes, pockets: [], long, wide: high, left: 0, low: 0 };
}

/** A slot's outline, straight or aslant, sometimes with a slot in it. */
function link(draw: Draw, thickness: number, has: Set<string>): Drawn {
  const r = draw.between(4, 10, 0.25);
  const [x, y] = [draw.between(18, 50, 1), draw.between(0, 10, 1)];
  const holes: object[] = [{ at: [0, 0], ream: draw.one([3, 4, 5]) }];
  const pockets: object[] = [];
  if (r > 6 && draw.chance(0.5)) {
    has.add('slot');
    const at = (share: number) => [round(x * share), round(y * share)];
    const outline = { slot: { from: at(0.45), to: at(0.7), width: draw.between(4, r, 0.1) } };
    pockets.push({ outline, ...(draw.chance(0.5) ? { through: true } : { depth: round(thickness / 2) }) });
  } else holes.push({ at: [x, y], tap: 'M3' });
  return {
    outline: { slot: { from: [0, 0], to: [x, y], width: 2 * r } },
    holes,
    pockets,
    long: x + 2 * r,
    wide: y + 2 * r,
    left: r,
    low: r,
  };
}

function disc(draw: Draw, _thickness: number, has: Set<string>): Drawn {
  const r = draw.between(8, 16, 0.5);
  has.add('bore');
  const holes = [{ at: [0, 0], bore: draw.between(4.2, r, 0.1) }];
  return {
    outline: { circle: { at: [0, 0], diameter: 2 * r } },
    holes,
    pockets: [],
    long: 2 * r,
    wide: 2 * r,
    left: r,
    low: r,
  };
}
