/** Which program, which view, what is drawn, whose paths. */
import { short } from '../../../base/text.ts';
import { byId, html } from './elements.ts';
import type { ShownLayers, Store } from './store.ts';

export function choices(store: Store): void {
  const select = byId<HTMLSelectElement>('program');
  for (const [i, p] of store.data.programs.entries()) {
    const setup = store.data.setups[p.setup]?.name ?? '';
    select.append(html('option', { value: i }, store.data.setups.length > 1 ? `${p.file} (${setup})` : p.file));
  }
  select.addEventListener('change', () => {
    const program = Number(select.value);
    store.set({ program, time: store.programs[program]!.total, running: false, spot: null });
  });
  drawnChoices(store);
  cutterChoices(store);
  for (const view of ['plan', 'free'] as const)
    byId(`view-${view}`).addEventListener('change', () => store.set({ view }));
  store.listen((state, changed) => {
    if (changed.has('program')) select.value = String(state.program);
    if (changed.has('view')) showView(state.view);
  });
  showView(store.state.view);
}

function showView(view: 'plan' | 'free'): void {
  byId<HTMLInputElement>(`view-${view}`).checked = true;
  byId('stage').setAttribute('data-view', view);
}

function drawnChoices(store: Store): void {
  for (const key of ['stock', 'path', 'rapids', 'wholePath', 'clamps', 'holder', 'marks'] as const) {
    const box = byId<HTMLInputElement>(`shown-${key}`);
    box.checked = store.state.shown[key];
    box.addEventListener('change', () => {
      const shown: ShownLayers = { ...store.state.shown, [key]: box.checked };
      store.set({ shown });
    });
  }
}

function cutterChoices(store: Store): void {
  const set = byId('cutter-choices');
  for (const c of store.data.cutters) {
    const id = `cutter-${c.number}`;
    const line = html('div');
    const box = html('input', { type: 'checkbox', id }) as HTMLInputElement;
    box.checked = true;
    box.addEventListener('change', () => {
      const cutters = new Set(store.state.cutters);
      if (box.checked) cutters.add(c.number);
      else cutters.delete(c.number);
      store.set({ cutters });
    });
    line.append(box, html('label', { for: id }, `${c.number}: ${c.kind} ${short(c.diameter)}`));
    set.append(line);
  }
}
