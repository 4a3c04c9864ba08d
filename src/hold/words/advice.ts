/** What would do where a holding falls short: each single change that a shop can make, tried on the same plate. */
import { short } from '../../base/text.ts';
import type { NodeCompliance } from '../../mechanics/plate/plate.ts';
import type { Plan } from '../../plan/plan.ts';
import { GLUE_ALLOWABLE } from '../../trade/holding-rules.ts';
import type { Decided } from '../evaluate/decide.ts';
import { evaluate } from '../evaluate/evaluate.ts';
import { judge, meets, ratioOf } from '../evaluate/judge.ts';
import { screwsWay } from '../evaluate/other-ways.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import type { HoldWay, TabsWay } from '../way.ts';

/** Words of what would do, as one line; empty only where nothing was tried. */
export function whatWouldDo(scene: HoldScene, net: StockNet, decided: Decided): string[] {
  const failing = failingKinds(decided);
  const only = (kind: string) => failing.has(kind);
  const enough: string[] = [];
  let best = { words: '', ratio: ratioOf(decided.judged) + 0.01 };
  for (const steps of changes(scene, net, decided.way)) {
    for (const change of steps) {
      const evaluated = evaluate(change.scene, change.net, change.way, change.elsewhere ? undefined : only);
      if (evaluated.kind === 'loose') continue;
      const j = judge(evaluated.evaluation);
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
function failingKinds({ evaluation }: Decided): ReadonlySet<string> {
  const kinds = new Set<string>();
  for (const kind of new Set(evaluation.moments.map((m) => m.kind))) {
    const only = evaluation.moments.filter((m) => m.kind === kind);
    if (!meets(judge(evaluation, only))) kinds.add(kind);
  }
  return kinds;
}

interface TriedWay {
  readonly scene: HoldScene;
  readonly net: StockNet;
  readonly way: HoldWay;
}

interface Change extends TriedWay {
  readonly words: string;
  /** May make worse a pass that was good: all are looked at. */
  readonly elsewhere?: true;
}

/** Kinds of change, each in steps from the mildest. What changes nothing is no advice. */
function changes(scene: HoldScene, net: StockNet, way: HoldWay): Change[][] {
  const same: TriedWay = { scene, net, way };
  const { variants, job } = scene;
  const planned = (words: string, plan: Plan): Change => ({ ...same, words, scene: { ...scene, plan } });
  const flutes = (turn: 0 | -1, words: string): Change[] => {
    const plan = variants.fluted(scene.plan, turn);
    return plan === null ? [] : [{ ...planned(words, plan), elsewhere: true }];
  };
  const screwed = screwsBeside(scene, way);
  return [
    ...(way.tabs ? largerTabs(same, way.tabs) : []),
    [0.7, 0.5].map((f) =>
      planned(`passes of ${Math.round(100 * f)} % of the depth`, variants.lighter(scene.plan, f, 1)),
    ),
    [0.7, 0.5].map((f) =>
      planned(`${short(job.finish.allowance * f, 2)} mm left for finishing`, variants.lighter(scene.plan, 1, f)),
    ),
    [
      ...flutes(0, 'a cutter with straight flutes'),
      ...flutes(-1, 'a cutter with left-hand flutes (they press the part down)'),
    ],
    smallerCutter(same),
    screwed ? [{ ...same, words: 'a screw in each bore besides', way: screwed, elsewhere: true }] : [],
    [
      {
        ...same,
        words: 'a frame that does not give (clamps nearer to the slot, wider rails)',
        net: { ...net, compliance: stiff(net.compliance) },
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
}

const MOST_WETTED = GLUE_ALLOWABLE.wetted.high;

function largerTabs(same: TriedWay, tabs: TabsWay): Change[][] {
  const { scene, way } = same;
  const factors = [1.5, 2];
  const changed = (words: string, by: Partial<TabsWay>): Change => {
    return { ...same, words, way: { ...way, tabs: { ...tabs, ...by } } };
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

function smallerCutter(same: TriedWay): Change[] {
  const { scene } = same;
  const found = scene.variants.smallerCutter(scene.job, scene.plan);
  if (found === null) return [];
  const name = found.drawer === null ? 'a smaller cutter' : `cutter ${found.drawer}`;
  const words = `${name} (${short(found.diameter)} mm) for the outline`;
  return [{ ...same, words, scene: { ...scene, plan: found.plan }, elsewhere: true }];
}

/** Tabs helped by screws through the bores that take one; null where none can. */
function screwsBeside(scene: HoldScene, way: HoldWay): HoldWay | null {
  if (way.by !== 'tabs') return null;
  const found = screwsWay(scene, null);
  return found.kind === 'way' ? { ...found.way, tabs: way.tabs } : null;
}

/** A thousandth of the give: a frame as good as solid. */
function stiff(compliance: NodeCompliance): NodeCompliance {
  return { ...compliance, blocks: compliance.blocks.map((v) => v / 1000) };
}
