/** The reckoning in words: verdict, what it comes from, and what would do better. */
import { short } from '../../base/text.ts';
import type { Limit } from '../../mechanics/held/held-state.ts';
import type { NodeGive } from '../../mechanics/plate/plate.ts';
import type { Operation } from '../../plan/plan.ts';
import { GLUE_ALLOWABLE } from '../../trade/holding-rules.ts';
import { leastToothFeed } from '../../trade/milling-rules.ts';
import type { Decided } from '../evaluate/decide.ts';
import { type Judged, judge, meets, ratioOf } from '../evaluate/judge.ts';
import { screwsWay } from '../evaluate/other-ways.ts';
import { OWN_SHARE_TOLD } from '../evaluate/own-give.ts';
import { reckon } from '../evaluate/reckon.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import type { TabsWay, Way } from '../way.ts';

export function verdictOf(scene: HoldScene, j: Judged): string {
  const margin = `margin ${short(j.margin.least, 2)} of ${short(j.margin.wanted, 1)} wanted${limitWords(j.margin.limit)}`;
  const way = j.movement.upwards ? 'upwards' : 'in its normal';
  const most = j.movement.most < LEAST_TOLD ? `under ${LEAST_TOLD}` : short(j.movement.most, 3);
  const movement = `the edge moves ${most} mm of ${short(j.movement.wanted, 3)} mm allowed ${way}`;
  const at = placeWords(scene, j);
  return `${margin}; ${movement}${at}`;
}

/** A movement (mm) that three decimals would round to 0: it is told as under the last of them. */
const LEAST_TOLD = 0.001;

function placeWords(scene: HoldScene, j: Judged): string {
  const weak = j.margin.least < j.margin.wanted ? j.margin : j.movement;
  if (!weak.spot || !weak.moment) return '';
  const op = scene.plan.setups.flatMap((s) => s.operations).find((o) => o.id === weak.moment!.operation);
  return `, worst in "${op?.title ?? weak.moment.kind}" at ${short(weak.spot.x, 1)}, ${short(weak.spot.y, 1)}`;
}

/** Where the part bends so much by itself that reckoning it as stiff says too little; null: it does not. */
export function bendsWords({ ownShare, movement }: Judged): string | null {
  if (ownShare <= OWN_SHARE_TOLD) return null;
  const at = movement.spot ? ` at ${short(movement.spot.x, 1)}, ${short(movement.spot.y, 1)}` : '';
  return `the part's own bending makes ${Math.round(100 * ownShare)} % of the most movement${at}: the stiff model does not hold there, the bending is an estimate`;
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

/** Words of what would do, as one line; empty only where nothing was tried. */
export function whatWouldDo(scene: HoldScene, net: StockNet, decided: Decided): string[] {
  const failing = failingKinds(decided);
  const only = (kind: string) => failing.has(kind);
  const enough: string[] = [];
  let best = { words: '', ratio: ratioOf(decided.judged) + 0.01 };
  for (const steps of changes(scene, net, decided.way)) {
    for (const change of steps) {
      const wish = change.elsewhere ? { modes: false } : { modes: false, only };
      const reckoned = reckon(change.scene, change.net, change.way, wish);
      if (reckoned.kind === 'loose') continue;
      const j = judge(reckoned.reckoning);
      if (meets(j)) {
        enough.push(change.words);
        // The mildest step of each kind is enough.
        break;
      }
      if (ratioOf(j) > best.ratio) best = { words: change.words, ratio: ratioOf(j) };
    }
  }
  if (enough.length === 1) return [`${enough[0]} would do`];
  if (enough.length > 1) return [`any one of these would do: ${enough.join('; ')}`];
  if (best.words === '') return ['no single change tried is enough: hold it another way, or cut lighter'];
  return [`no single change is enough; ${best.words} helps most (${Math.floor(100 * best.ratio)} % of what is wanted)`];
}

/** Passes in which the way falls short: only they are tried again. What is changed makes no other pass worse. */
function failingKinds({ reckoning }: Decided): ReadonlySet<string> {
  const kinds = new Set<string>();
  for (const kind of new Set(reckoning.moments.map((m) => m.kind))) {
    const only = reckoning.moments.filter((m) => m.kind === kind);
    if (!meets(judge(reckoning, only))) kinds.add(kind);
  }
  return kinds;
}

interface Change {
  readonly words: string;
  readonly scene: HoldScene;
  readonly net: StockNet;
  readonly way: Way;
  /** May make worse a pass that was good: all are looked at. */
  readonly elsewhere?: true;
}

/** Kinds of change, each in steps from the mildest. */
function changes(scene: HoldScene, net: StockNet, way: Way): Change[][] {
  const same = { scene, net, way };
  const kinds: Change[][] = [
    ...(way.tabs ? largerTabs(scene, net, way, way.tabs) : []),
    [0.7, 0.5].map((f) => ({
      ...same,
      words: `passes of ${Math.round(100 * f)} % of the depth`,
      scene: lighter(scene, f, 1),
    })),
    [0.7, 0.5].map((f) => ({
      ...same,
      words: `${short(scene.job.finish.allowance * f, 2)} mm left for finishing`,
      scene: lighter(scene, 1, f),
    })),
    [0, -1].map((turn) => ({
      ...same,
      words: turn === 0 ? 'a cutter with straight flutes' : 'a cutter with left-hand flutes (they press the part down)',
      scene: fluted(scene, turn),
      elsewhere: true,
    })),
    [smallerCutter(scene, same)],
    [{ ...same, words: 'a screw in each bore besides', way: screwed(scene, way), elsewhere: true }],
    [
      {
        ...same,
        words: 'a frame that does not give (clamps nearer to the slot, wider rails)',
        net: { ...net, give: stiff(net.give) },
      },
    ],
    way.floor > 0
      ? [{ ...same, words: `a floor of ${short(2 * way.floor)} mm`, way: { ...way, floor: 2 * way.floor } }]
      : [],
    way.glue && way.glue.wetted < MOST_WETTED
      ? [
          {
            ...same,
            words: `glue on ${Math.round(100 * MOST_WETTED)} % of the face`,
            way: { ...way, glue: { ...way.glue, wetted: MOST_WETTED } },
          },
        ]
      : [],
  ];
  // What changes nothing is no advice.
  return kinds.map((steps) => steps.filter((c) => c.scene !== scene || c.net !== net || c.way !== way));
}

const MOST_WETTED = GLUE_ALLOWABLE.wetted.high;

function largerTabs(scene: HoldScene, net: StockNet, way: Way, tabs: TabsWay): Change[][] {
  const factors = [1.5, 2];
  const changed = (words: string, by: Partial<TabsWay>): Change => {
    return { words, scene, net, way: { ...way, tabs: { ...tabs, ...by } } };
  };
  const thinned = tabs.height < tabs.cutHeight;
  return [
    factors.flatMap((f) => {
      const cutHeight = Math.round(10 * tabs.cutHeight * f) / 10;
      const height = thinned ? tabs.height : cutHeight;
      return cutHeight < scene.thickness ? [changed(`tabs ${short(cutHeight)} mm high`, { cutHeight, height })] : [];
    }),
    factors.flatMap((f) => {
      const height = Math.round(20 * tabs.height * f) / 20;
      return thinned && height < tabs.cutHeight ? [changed(`thinning only to ${short(height)} mm`, { height })] : [];
    }),
    factors.map((f) => {
      const width = Math.round(10 * tabs.width * f) / 10;
      return changed(`tabs ${short(width)} mm wide`, { width });
    }),
  ];
}

/** The same mills with their flutes straight or turned the other way; themselves where they are so already. */
function fluted(scene: HoldScene, turn: number): HoldScene {
  if (scene.cutter.helixDeg === 0 ? turn === 0 : scene.cutter.helixDeg < 0) return scene;
  const cutters = scene.plan.cutters.map((c) => ({ ...c, helixDeg: turn * Math.abs(c.helixDeg) }));
  return { ...scene, plan: { ...scene.plan, cutters } };
}

/**
 * The profile by the next smaller end mill of the drawer, or one a third smaller: chip and depth in proportion. The slot is
 * left as wide as it was, which errs on the safe side: a narrower one makes shorter tabs.
 */
function smallerCutter(scene: HoldScene, same: Pick<Change, 'scene' | 'net' | 'way'>): Change {
  const { cutter, job, plan } = scene;
  const smaller = job.cutters
    .filter((c) => c.kind === cutter.kind && c.diameter < cutter.diameter - 1e-9 && c.diameter >= SMALLEST)
    .sort((a, b) => b.diameter - a.diameter)[0];
  const diameter = smaller?.diameter ?? Math.round((2 * 2 * cutter.diameter) / 3) / 2;
  if (diameter >= cutter.diameter || diameter < SMALLEST) return { ...same, words: '' };
  const share = diameter / cutter.diameter;
  const small = { ...(smaller ?? cutter), number: NEW_CUTTER, diameter };
  const setups = plan.setups.map((s) => ({
    ...s,
    operations: s.operations.map((o) => {
      const own = o.cutter === cutter.number && (o.what === 'rough' || o.what === 'finish' || o.what === 'lighten');
      if (!own) return o;
      // No thinner a chip than still cuts.
      const chip = Math.max(share, Math.min(1, (leastToothFeed(diameter).value * cutter.flutes * o.speed) / o.feed));
      const feed = (o.feed * chip * small.flutes) / cutter.flutes;
      return { ...o, cutter: NEW_CUTTER, feed, ...(o.what === 'rough' ? { depths: levels(o, share) } : {}) };
    }),
  }));
  const name = smaller ? `cutter ${smaller.number}` : 'a smaller cutter';
  return {
    ...same,
    words: `${name} (${short(diameter)} mm) for the outline`,
    scene: { ...scene, plan: { ...plan, setups, cutters: [...plan.cutters, small] } },
    elsewhere: true,
  };
}

/** No drawer's. */
const NEW_CUTTER = -1;
/** Thinner mills break on a light machine before they spare the part anything (common practice). */
const SMALLEST = 1;

/** Tabs helped by screws through the bores that take one; itself where none can. */
function screwed(scene: HoldScene, way: Way): Way {
  if (way.by !== 'tabs') return way;
  const found = screwsWay(scene, null);
  return found.kind === 'way' ? { ...found.way, tabs: way.tabs } : way;
}

/** The same plan with shallower roughing or a thinner finishing cut. */
function lighter(scene: HoldScene, depth: number, allowance: number): HoldScene {
  const setups = scene.plan.setups.map((s) => ({
    ...s,
    operations: s.operations.map((o) => {
      if (o.what === 'finish') return { ...o, widthOfCut: o.widthOfCut * allowance };
      return o.what !== 'rough' || depth === 1 ? o : { ...o, depths: levels(o, depth) };
    }),
  }));
  return { ...scene, plan: { ...scene.plan, setups } };
}

/** As many more levels as makes each that share as deep, but none shallower than a light machine repeats in Z. */
function levels(o: Operation, share: number): number[] {
  const bottom = o.depths.at(-1)!;
  const most = Math.floor((o.from - bottom) / SHALLOWEST + 1e-9);
  const count = Math.max(o.depths.length, Math.min(most, Math.ceil(o.depths.length / share)));
  return Array.from({ length: count }, (_, i) => o.from + ((bottom - o.from) * (i + 1)) / count);
}

/** As the plan has it (common practice): what asks for less is no advice. */
const SHALLOWEST = 0.05;

/** A thousandth of the give: a frame as good as solid. */
function stiff(give: NodeGive): NodeGive {
  return { ...give, blocks: give.blocks.map((v) => v / 1000) };
}
