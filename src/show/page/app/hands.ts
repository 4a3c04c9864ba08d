/** Pointer and keys on the drawing; keys for the whole page. */
import type { TimeAxis } from './axis.ts';
import { byId } from './elements.ts';
import type { Store } from './store.ts';

/** What both views can be told. */
export interface Handled {
  zoom(factor: number, px?: number, py?: number): void;
  move(dx: number, dy: number, turning: boolean): void;
  home(): void;
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [40, 0],
  ArrowRight: [-40, 0],
  ArrowUp: [0, 40],
  ArrowDown: [0, -40],
};

export function hands(store: Store, axis: TimeAxis, current: () => Handled): void {
  const stage = byId('stage');
  stage.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const arrow = ARROWS[event.key];
    if (arrow) current().move(arrow[0], arrow[1], !event.shiftKey);
    else if (event.key === '+' || event.key === '=') current().zoom(1.25);
    else if (event.key === '-') current().zoom(0.8);
    else if (event.key === '0') current().home();
    else return;
    event.preventDefault();
  });
  drag(stage, store, current);
  stage.addEventListener(
    'wheel',
    (event) => {
      event.preventDefault();
      const box = stage.getBoundingClientRect();
      current().zoom(Math.exp(-event.deltaY * 0.0015), event.clientX - box.left, event.clientY - box.top);
    },
    { passive: false },
  );
  for (const [id, act] of [
    ['nearer', () => current().zoom(1.25)],
    ['farther', () => current().zoom(0.8)],
    ['whole', () => current().home()],
  ] as const)
    byId(id).addEventListener('click', act);
  pageKeys(store, axis);
}

function drag(stage: HTMLElement, store: Store, current: () => Handled): void {
  let held: { x: number; y: number; turning: boolean } | null = null;
  stage.addEventListener('pointerdown', (event) => {
    if (store.state.measuring) return;
    held = { x: event.clientX, y: event.clientY, turning: event.button === 0 && !event.shiftKey };
    stage.setPointerCapture(event.pointerId);
  });
  stage.addEventListener('pointermove', (event) => {
    if (!held) return;
    current().move(event.clientX - held.x, event.clientY - held.y, held.turning);
    held = { ...held, x: event.clientX, y: event.clientY };
  });
  const drop = (): void => {
    held = null;
  };
  stage.addEventListener('pointerup', drop);
  stage.addEventListener('pointercancel', drop);
  stage.addEventListener('contextmenu', (event) => event.preventDefault());
}

/** Letters act anywhere but in fields one types into. */
function pageKeys(store: Store, axis: TimeAxis): void {
  document.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const target = event.target as Element;
    if (target.closest('input[type="text"], select, textarea')) return;
    const act = KEYS(store, axis)[event.key.toLowerCase()];
    if (!act) return;
    event.preventDefault();
    act();
  });
}

const KEYS = (store: Store, axis: TimeAxis): Readonly<Record<string, () => void>> => ({
  r: () => axis.toggle(),
  n: () => axis.step(1),
  b: () => axis.step(-1),
  k: () => axis.stepMove(1),
  j: () => axis.stepMove(-1),
  h: () => byId<HTMLInputElement>('shown-holder').click(),
  o: () => axis.stepOperation(1),
  i: () => axis.stepOperation(-1),
  w: () => axis.nextDip(),
  v: () => {
    if (!byId<HTMLInputElement>('view-free').disabled)
      store.set({ view: store.state.view === 'plan' ? 'free' : 'plan' });
  },
  m: () => byId<HTMLButtonElement>('measure-pick').click(),
  escape: () => store.set({ spot: null, measuring: false, running: false }),
});
