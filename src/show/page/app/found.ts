/** Findings and marked places as buttons that lead to their place and moment. */
import { short } from '../../../base/text.ts';
import type { FoundPlace } from '../worker/worker-talk.ts';
import { endOfBlock } from './clock.ts';
import { byId, html } from './elements.ts';
import type { Store } from './store.ts';

export function foundLists(store: Store): void {
  byId('findings').addEventListener('click', (event) => {
    const index = (event.target as Element).closest('[data-finding]')?.getAttribute('data-finding');
    if (index !== null && index !== undefined) goToFinding(store, Number(index));
  });
  byId('places').addEventListener('click', (event) => {
    const index = (event.target as Element).closest('[data-place]')?.getAttribute('data-place');
    const place = store.state.places?.[Number(index)];
    if (index && place) goToPlace(store, place);
  });
  store.listen((_, changed) => {
    if (changed.has('places') || changed.has('program') || (changed.has('fieldDone') && store.state.places === null))
      drawPlaces(store);
  });
  drawPlaces(store);
}

function goToFinding(store: Store, index: number): void {
  const f = store.data.findings[index];
  const program = f && store.programs[f.program];
  if (!f || !program) return;
  if (f.program !== store.state.program) store.set({ program: f.program, time: 0, running: false });
  const time = f.block > 0 ? endOfBlock(program, f.block) : program.total;
  store.goTo(time, { running: false });
  const { at } = store.moment;
  const place = f.at ? ([f.at[0]!, f.at[1]!] as const) : f.block > 0 ? ([at[0], at[1]] as const) : null;
  store.set({ spot: place ? { at: place, label: f.code } : null });
  reveal();
}

function goToPlace(store: Store, place: FoundPlace): void {
  const setup = store.program.view.setup;
  let before = 0;
  for (const [i, p] of store.programs.entries()) {
    if (p.view.setup !== setup) continue;
    if (place.move <= before + p.moves.count) {
      const time = p.ends[Math.max(0, place.move - before - 1)] ?? p.total;
      if (i !== store.state.program) store.set({ program: i, time: 0 });
      store.goTo(time, { running: false });
      break;
    }
    before += p.moves.count;
  }
  store.set({ spot: { at: place.at, label: place.kind } });
  reveal();
}

function reveal(): void {
  byId('stage').scrollIntoView({ block: 'nearest' });
}

function drawPlaces(store: Store): void {
  const { places } = store.state;
  const intro = byId('places-intro');
  const list = byId('places');
  list.replaceChildren();
  if (!store.data.hasJob || store.program.view.setup > 0) {
    intro.textContent = store.data.hasJob
      ? 'The field is compared with the part in the first set-up only.'
      : 'No job was given: there is no part to compare the stock with.';
    return;
  }
  if (places === null) {
    const done = Math.floor(store.state.fieldDone * 100);
    intro.textContent =
      done < 100
        ? `The stock is still being worked out, ${done} % done; then what is left is compared with the part.`
        : 'The stock left at the end is still being compared with the part.';
    return;
  }
  const counts = ['gouge', 'uncut'].map((k) => places.filter((p) => p.kind === k).length);
  intro.textContent =
    places.length === 0
      ? 'Compared cell by cell with the part, the stock left at the end shows no gouge and nothing uncut. The check’s own verdict, from exact geometry, stands above.'
      : `Compared cell by cell with the part: ${counts[0]} gouged, ${counts[1]} uncut. Each leads to its place.`;
  const numbers = { gouge: 0, uncut: 0 };
  for (const [i, p] of places.entries()) {
    const n = ++numbers[p.kind];
    const name = p.kind === 'gouge' ? `G${n} gouge` : `U${n} uncut`;
    const size = `${short(p.worst, 3)} mm ${p.kind === 'gouge' ? 'deep' : 'high'}, ${short(p.across, 2)} mm across, ${short(p.area, 2)} mm²`;
    const at = `at X ${short(p.at[0], 2)} Y ${short(p.at[1], 2)}`;
    const item = html('li');
    item.append(html('button', { type: 'button', 'data-place': i }, `${name}: ${size}, ${at}`));
    list.append(item);
  }
}
