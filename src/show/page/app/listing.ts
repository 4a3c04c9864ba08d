/** The program's text beside its time: only the lines in sight are elements, so that length costs nothing. */
import { short } from '../../../base/text.ts';
import { isArc, RAPID } from '../data/moves-pack.ts';
import { endOfBlock, type OpenProgram } from './clock.ts';
import { byId, html, onFrame } from './elements.ts';
import { firstAtLeast } from './ordered.ts';
import type { Store } from './store.ts';

/** Browsers keep elements no taller than about 33 million pixels; longer programs get lower steps of the bar. */
const TALLEST = 12_000_000;

export class Listing {
  private readonly store: Store;
  private readonly box = byId('listing');
  private readonly space = byId('listing-space');
  private lineHeight = 22;
  private following = true;
  private readonly redraw = onFrame(() => this.draw());

  constructor(store: Store) {
    this.store = store;
    this.box.addEventListener('scroll', () => this.redraw());
    this.box.addEventListener('click', (event) => this.choose(event));
    this.box.addEventListener('keydown', (event) => this.key(event));
    store.listen((_, changed) => {
      if (changed.has('program')) this.measure();
      if (changed.has('time') || changed.has('program')) {
        this.following = true;
        this.redraw();
      }
    });
    new ResizeObserver(() => {
      this.measure();
      this.redraw();
    }).observe(this.box);
    this.measure();
    this.redraw();
  }

  private measure(): void {
    const rem = Number.parseFloat(getComputedStyle(this.box).fontSize) || 16;
    this.lineHeight = Math.round(rem * 1.5);
    this.space.style.height = `${Math.min(TALLEST, this.count * this.lineHeight)}px`;
  }

  private get count(): number {
    return this.store.program.view.lines;
  }

  /** Lines a pixel of the bar. */
  private get step(): number {
    return (this.count * this.lineHeight) / Math.min(TALLEST, Math.max(1, this.count * this.lineHeight));
  }

  private draw(): void {
    const current = this.store.moment.block;
    const inSight = Math.max(1, Math.floor(this.box.clientHeight / this.lineHeight));
    if (this.following) {
      this.following = false;
      const first = (this.box.scrollTop * this.step) / this.lineHeight;
      if (current - 1 < first + 1 || current > first + inSight - 2)
        this.box.scrollTop = Math.max(0, ((current - 1 - inSight / 3) * this.lineHeight) / this.step);
    }
    const top = this.box.scrollTop;
    const first = Math.max(1, Math.floor((top * this.step) / this.lineHeight));
    const last = Math.min(this.count, first + inSight + 2);
    const rows: HTMLElement[] = [];
    const start = this.step === 1 ? (first - 1) * this.lineHeight : top;
    for (let n = first; n <= last; n++) rows.push(this.row(n, n === current, start + (n - first) * this.lineHeight));
    this.space.replaceChildren(...rows);
    byId('line-in-full').textContent = `${current}: ${lineText(this.store.program, current)}`;
    const active = rows.find((r) => r.getAttribute('aria-selected') === 'true');
    if (active) this.box.setAttribute('aria-activedescendant', active.id);
    else this.box.removeAttribute('aria-activedescendant');
  }

  private row(n: number, current: boolean, y: number): HTMLElement {
    const row = html('div', {
      role: 'option',
      id: `line-${n}`,
      'data-line': n,
      'aria-selected': String(current),
      'aria-posinset': n,
      'aria-setsize': this.count,
    });
    row.style.top = `${y}px`;
    row.style.height = `${this.lineHeight}px`;
    row.append(html('span', { class: 'line-number' }, String(n)), html('span', {}, lineText(this.store.program, n)));
    return row;
  }

  private choose(event: Event): void {
    const line = (event.target as Element).closest('[data-line]')?.getAttribute('data-line');
    if (line) this.store.goTo(endOfBlock(this.store.program, Number(line)), { running: false });
  }

  private key(event: KeyboardEvent): void {
    const by = { ArrowDown: 1, ArrowUp: -1, PageDown: 20, PageUp: -20 }[event.key];
    if (by === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    const { program, moment } = this.store;
    // Lines without a move share the time of the one before: go on to the next that has its own.
    let line = moment.block + by;
    let time = endOfBlock(program, line);
    while (by > 0 && time <= this.store.state.time && line < this.count) time = endOfBlock(program, ++line);
    while (by < 0 && time >= this.store.state.time && line > 1) time = endOfBlock(program, --line);
    this.store.goTo(time, { running: false });
  }
}

/** The line as written; for a program too long to be carried, its move in words. */
export function lineText(p: OpenProgram, n: number): string {
  if (p.lines) return p.lines[n - 1] ?? '';
  const { moves } = p;
  const i = firstAtLeast(moves.block, n);
  if (moves.block[i] !== n) return '';
  const kind = moves.kind[i]!;
  const what = kind === RAPID ? 'rapid to' : isArc(kind) ? 'arc to' : 'straight to';
  return `${what} X ${short(moves.x[i + 1]!, 3)} Y ${short(moves.y[i + 1]!, 3)} Z ${short(moves.z[i + 1]!, 3)}`;
}
