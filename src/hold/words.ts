/** The reckoning in words: verdict, what it comes from, and what would do better. */
import { short } from '../base/text.ts';
import type { Limit } from '../mechanics/held-state.ts';
import type { NodeGive } from '../mechanics/plate.ts';
import type { Decided } from './decide.ts';
import { type Judged, judge, meets } from './judge.ts';
import type { StockNet } from './net.ts';
import { reckon } from './reckon.ts';
import type { HoldScene } from './scene.ts';
import type { Way } from './way.ts';

export function verdictOf(scene: HoldScene, j: Judged): string {
  const margin = `margin ${short(j.margin.least, 2)} of ${short(j.margin.wanted, 1)} wanted${limitWords(j.margin.limit)}`;
  const way = j.movement.upwards ? 'upwards' : 'in its normal';
  const movement = `the edge moves ${short(j.movement.most, 3)} of ${short(j.movement.wanted, 3)} mm allowed ${way}`;
  const at = placeWords(scene, j);
  return `${margin}; ${movement}${at}`;
}

function placeWords(scene: HoldScene, j: Judged): string {
  const weak = j.margin.least < j.margin.wanted ? j.margin : j.movement;
  if (!weak.spot || !weak.moment) return '';
  const op = scene.plan.setups.flatMap((s) => s.operations).find((o) => o.id === weak.moment!.operation);
  return `, worst in "${op?.title ?? weak.moment.kind}" at ${short(weak.spot.x, 1)}, ${short(weak.spot.y, 1)}`;
}

export function limitWords(limit: Limit | null): string {
  switch (limit?.kind) {
    case undefined:
      return '';
    case 'tab':
      return ` (tab ${limit.index + 1})`;
    case 'floor':
      return ' (floor)';
    case 'screw':
      return ' (a screw slips)';
    case 'bond':
      return ' (the glue)';
  }
}

/** Each change is tried by itself and named only if it is enough; if none is, the one that helps most is named. */
export function whatWouldDo(scene: HoldScene, net: StockNet, decided: Decided): string[] {
  const failing = failingKinds(decided);
  const only = (kind: string) => failing.has(kind);
  const tried = changes(scene, net, decided.way).map(({ words, scene: s, net: n, way }) => {
    const reckoned = reckon(s, n, way, { modes: false, only });
    if (reckoned.kind === 'loose') return null;
    const j = judge(reckoned.reckoning);
    return { words, does: meets(j), ratio: ratioOf(j) };
  });
  const known = tried.filter((t) => t !== null);
  const enough = known.filter((t) => t.does).map((t) => `${t.words} would do`);
  if (enough.length > 0) return enough;
  const best = known.sort((a, b) => b.ratio - a.ratio)[0];
  if (!best || best.ratio <= ratioOf(decided.judged) + 0.01)
    return ['no single change tried is enough: hold it another way, or cut lighter'];
  return [`no single change is enough; ${best.words} helps most (${Math.round(100 * best.ratio)} % of what is wanted)`];
}

/** Passes in which the way falls short: only they are tried again. What is changed makes no other pass worse. */
function failingKinds({ reckoning }: Decided): ReadonlySet<string> {
  const kinds = new Set<string>();
  for (const kind of new Set(reckoning.moments.map((m) => m.kind))) {
    const only = { ...reckoning, moments: reckoning.moments.filter((m) => m.kind === kind) };
    if (!meets(judge(only))) kinds.add(kind);
  }
  return kinds;
}

/** Least of what is had over what is wanted. */
export function ratioOf(j: Judged): number {
  return Math.min(
    j.margin.least / j.margin.wanted,
    j.movement.most > 0 ? j.movement.wanted / j.movement.most : Infinity,
  );
}

interface Change {
  readonly words: string;
  readonly scene: HoldScene;
  readonly net: StockNet;
  readonly way: Way;
}

function changes(scene: HoldScene, net: StockNet, way: Way): Change[] {
  const out: Change[] = [];
  if (way.tabs) {
    const { tabs } = way;
    for (const factor of [1.5, 2]) {
      const cutHeight = Math.round(10 * tabs.cutHeight * factor) / 10;
      const height = tabs.height === tabs.cutHeight ? cutHeight : tabs.height;
      if (cutHeight < scene.thickness)
        out.push({
          words: `tabs ${short(cutHeight)} mm high`,
          scene,
          net,
          way: { ...way, tabs: { ...tabs, cutHeight, height } },
        });
      const width = Math.round(10 * tabs.width * factor) / 10;
      const left = Math.round(20 * tabs.height * factor) / 20;
      if (tabs.height < tabs.cutHeight && left < tabs.cutHeight) {
        const lessThinned = { ...way, tabs: { ...tabs, height: left } };
        out.push({ words: `thinning only to ${short(left)} mm`, scene, net, way: lessThinned });
      }
      out.push({ words: `tabs ${short(width)} mm wide`, scene, net, way: { ...way, tabs: { ...tabs, width } } });
    }
  }
  for (const factor of [0.7, 0.5]) {
    out.push({
      words: `passes of ${Math.round(100 * factor)} % of the depth`,
      scene: lighter(scene, factor, 1),
      net,
      way,
    });
    out.push({
      words: `an allowance of ${short(scene.job.finish.allowance * factor, 2)} mm`,
      scene: lighter(scene, 1, factor),
      net,
      way,
    });
  }
  out.push({
    words: 'a frame that does not give (clamps nearer to the slot, wider rails)',
    scene,
    net: { ...net, give: stiff(net.give) },
    way,
  });
  if (way.floor > 0)
    out.push({ words: `a floor of ${short(2 * way.floor)} mm`, scene, net, way: { ...way, floor: 2 * way.floor } });
  return out;
}

/** The same plan with shallower roughing or a thinner finishing cut. */
function lighter(scene: HoldScene, depth: number, allowance: number): HoldScene {
  const setups = scene.plan.setups.map((s) => ({
    ...s,
    operations: s.operations.map((o) => {
      if (o.what === 'finish') return { ...o, widthOfCut: o.widthOfCut * allowance };
      if (o.what !== 'rough' || depth === 1) return o;
      const bottom = o.depths.at(-1)!;
      const count = Math.ceil(o.depths.length / depth);
      return { ...o, depths: Array.from({ length: count }, (_, i) => o.from + ((bottom - o.from) * (i + 1)) / count) };
    }),
  }));
  return { ...scene, plan: { ...scene.plan, setups } };
}

/** A thousandth of the give: a frame as good as solid. */
function stiff(give: NodeGive): NodeGive {
  return { ...give, blocks: give.blocks.map((v) => v / 1000) };
}
