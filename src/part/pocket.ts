/** Pockets: outline, islands, depth. */
import { SAME_POINT } from '../base/tolerance.ts';
import type { Mm } from '../base/units.ts';
import { FLOOR_RULES } from '../trade/holding-rules.ts';
import type { Desk } from './desk.ts';
import type { DrawingLoops } from './drawings.ts';
import { readOutline } from './outline.ts';
import type { Pocket } from './part.ts';
import type { KeyPath } from './schema/jsonc.ts';
import type { RawPocket } from './schema/schema.ts';

/** undefined: a fault has been told. */
export function readPocket(
  raw: RawPocket,
  index: number,
  thickness: Mm,
  desk: Desk,
  drawings: DrawingLoops,
): Pocket | undefined {
  const path: KeyPath = ['part', 'pockets', index];
  checkDepth(raw, path, thickness, desk);
  const outline = readOutline(raw.outline, [...path, 'outline'], desk, drawings);
  const islands = (raw.islands ?? []).map((island, i) => readOutline(island, [...path, 'islands', i], desk, drawings));
  if (outline === undefined) return undefined;
  return {
    index,
    outline,
    islands: islands.filter((i) => i !== undefined),
    depth: raw.through === true ? null : (raw.depth ?? null),
    open: [],
  };
}

function checkDepth(raw: RawPocket, path: KeyPath, thickness: Mm, desk: Desk): void {
  const through = raw.through === true;
  if (through === (raw.depth !== undefined)) {
    const found = through ? 'the pocket has a depth and is through' : 'the pocket has no depth';
    desk.fault({
      code: 'pocket-depth',
      at: path,
      found,
      wanted: 'either "depth" or "through": true',
      remedy: through ? 'take one away' : 'add one',
    });
  }
  if (raw.depth !== undefined && raw.depth >= thickness) {
    const found = `the pocket is ${desk.say(raw.depth)} deep, the part ${desk.say(thickness)} thick`;
    desk.fault({
      code: 'pocket-too-deep',
      at: [...path, 'depth'],
      found,
      wanted: 'a pocket less deep than the part',
      remedy: 'write "through": true instead',
    });
  }
  const floor = raw.depth === undefined ? thickness : thickness - raw.depth;
  if (floor > 0 && floor < FLOOR_RULES.thickness.high - SAME_POINT) {
    desk.caution({
      code: 'pocket-floor-thin',
      at: [...path, 'depth'],
      found: `the pocket leaves a floor of ${desk.say(floor)}: a plate that is thinner than said, or off flat, is cut through there`,
      wanted: `a floor of ${desk.say(FLOOR_RULES.thickness.high)} or more`,
      remedy: 'measure the plate and write "stock.measured", leave more, or write "through": true',
    });
  }
  if (through && (raw.islands ?? []).length > 0) {
    desk.fault({
      code: 'pocket-islands',
      at: [...path, 'islands'],
      found: 'islands stand in a pocket that goes right through',
      wanted: 'islands only where a floor carries them',
      remedy: 'give the pocket a depth',
    });
  }
}
