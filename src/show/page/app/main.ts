/** Entry of the page's script: reads the data that stand in the page, builds the views, joins them to one state. */
import type { ViewData } from '../data/view-data.ts';
import { TimeAxis } from './axis.ts';
import { choices } from './choices.ts';
import { openProgram } from './clock.ts';
import { byId } from './elements.ts';
import { FieldLink } from './field-link.ts';
import { foundLists } from './found.ts';
import { hands } from './hands.ts';
import { Listing } from './listing.ts';
import { momentPanel } from './moment-words.ts';
import { FreeView } from './picture/free-view.ts';
import { measuring } from './picture/measure.ts';
import { PlanView } from './picture/plan-view.ts';
import { Store } from './store.ts';

function open(): void {
  const data = JSON.parse(byId('view-data').textContent ?? '') as ViewData;
  const store = new Store(data, data.programs.map(openProgram));
  choices(store);
  const plan = new PlanView(store);
  const axis = new TimeAxis(store);
  new Listing(store);
  momentPanel(store);
  foundLists(store);
  measuring(store, plan);
  const free = freeOrWords(store);
  hands(store, axis, () => (store.state.view === 'free' && free !== null ? free : plan));
  new FieldLink(store);
  printing(store, plan);
  document.documentElement.setAttribute('data-ready', 'yes');
}

/** On paper the work is always seen in plan. No frame comes between this and the print, so it is drawn at once. */
function printing(store: Store, plan: PlanView): void {
  let before = store.state.view;
  window.addEventListener('beforeprint', () => {
    before = store.state.view;
    store.set({ view: 'plan' });
    plan.draw();
  });
  window.addEventListener('afterprint', () => store.set({ view: before }));
}

/** Without WebGL 2 the plan serves alone, and the page says so. */
function freeOrWords(store: Store): FreeView | null {
  const gone = (why: string): null => {
    store.set({ view: 'plan' });
    byId<HTMLInputElement>('view-free').disabled = true;
    byId('view-words').textContent = why;
    return null;
  };
  try {
    return new FreeView(store, byId<HTMLCanvasElement>('free'), () =>
      gone('The graphics of this browser were lost: the plan is shown. Open the page anew for the free view.'),
    );
  } catch {
    return gone('This browser has no WebGL, so the work is shown in plan only.');
  }
}

open();
