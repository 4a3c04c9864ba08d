/** Distance between two points of the plan, picked on the drawing or typed. */
import { short } from '../../../../base/text.ts';
import type { ViewData, XY } from '../../data/view-data.ts';
import { byId } from '../elements.ts';
import type { Store } from '../store.ts';
import { heightAt } from '../support-words.ts';
import type { PlanView } from './plan-view.ts';

/** A pick this near to a centre or an end takes it, CSS pixels. */
const SNAP_PX = 10;

const FIELDS = ['from-x', 'from-y', 'to-x', 'to-y'] as const;

export function measuring(store: Store, plan: PlanView): void {
  const button = byId<HTMLButtonElement>('measure-pick');
  button.addEventListener('click', () => {
    const on = !store.state.measuring;
    store.set({ measuring: on, ...(on ? { measure: [], view: 'plan' as const } : {}) });
    if (on) byId('stage').scrollIntoView({ block: 'nearest' });
  });
  byId('measure-clear').addEventListener('click', () => store.set({ measure: [], measuring: false }));
  for (const id of FIELDS) byId(id).addEventListener('change', () => typed(store));
  store.listen((state, changed) => {
    if (changed.has('measuring')) {
      button.setAttribute('aria-pressed', String(state.measuring));
      byId('stage').classList.toggle('measuring', state.measuring);
    }
    if (changed.has('measure') || changed.has('field')) tell(store);
  });
  byId('stage').addEventListener('click', (event) => {
    if (!store.state.measuring) return;
    const box = byId('stage').getBoundingClientRect();
    pick(store, plan, event.clientX - box.left, event.clientY - box.top);
  });
  tell(store);
}

function pick(store: Store, plan: PlanView, px: number, py: number): void {
  const raw = plan.workAt(px, py);
  const [x, y] = snapped(store.data, raw, SNAP_PX / plan.scale);
  const before = store.state.measure.length === 1 ? store.state.measure : [];
  const measure = [...before, withHeight(store, x, y)];
  store.set({ measure, measuring: measure.length < 2 });
  for (const [i, p] of measure.entries()) {
    byId<HTMLInputElement>(FIELDS[2 * i]!).value = short(p[0], 3);
    byId<HTMLInputElement>(FIELDS[2 * i + 1]!).value = short(p[1], 3);
  }
}

function withHeight(store: Store, x: number, y: number): readonly [number, number, number | null] {
  return [x, y, store.state.field ? heightAt(store.state.field, x, y) : null];
}

/** Centres of holes, ends of edges, centres of arcs, tabs. */
function snapped(data: ViewData, raw: XY, within: number): XY {
  const places: XY[] = [
    ...data.tabs.map((t) => t.at),
    ...data.parts.flatMap((p) => [
      ...p.holes.map((h) => h.at),
      ...[p.outline, ...p.pockets.map((k) => k.outline)].flatMap((loop) =>
        loop.flatMap((s): XY[] => [[s[0], s[1]], ...(s.length === 7 ? [[s[4], s[5]] as const] : [])]),
      ),
    ]),
  ];
  const away = (p: XY) => Math.hypot(p[0] - raw[0], p[1] - raw[1]);
  const best = places.reduce<XY | null>((a, b) => (a === null || away(b) < away(a) ? b : a), null);
  return best && away(best) <= within ? best : raw;
}

function typed(store: Store): void {
  const values = FIELDS.map((id) => byId<HTMLInputElement>(id).value.trim().replace(',', '.'));
  if (values.some((v) => v === '' || !Number.isFinite(Number(v)))) return;
  const [ax, ay, bx, by] = values.map(Number) as [number, number, number, number];
  store.set({ measure: [withHeight(store, ax, ay), withHeight(store, bx, by)], measuring: false });
}

function tell(store: Store): void {
  const [a, b] = store.state.measure;
  const out = byId('measure-result');
  if (store.state.measuring && !b) {
    out.textContent = a ? 'Now the second point.' : 'Pick the first point on the plan.';
    return;
  }
  if (!a || !b) {
    out.textContent = 'No points yet.';
    return;
  }
  const across = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const heights =
    a[2] !== null && b[2] !== null
      ? ` The stock stands at Z ${short(a[2], 3)} and Z ${short(b[2], 3)}: ${short(Math.abs(a[2] - b[2]), 3)} apart in height.`
      : '';
  out.textContent = `${short(across, 3)} mm apart; along X ${short(b[0] - a[0], 3)}, along Y ${short(b[1] - a[1], 3)}.${heights}`;
}
