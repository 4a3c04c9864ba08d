/** The curves on the page: drawn anew when width or program change, the present moment across both, a click led to its block. */
import type { CourseColumns } from '../data/course-pack.ts';
import {
  badness,
  type CurveSpec,
  curveHeight,
  curveSpecs,
  curveWords,
  drawCurve,
  PLOT,
  SIDES,
  THUMB,
  TOP,
  timeX,
} from './curves.ts';
import { byId, svg } from './elements.ts';
import { BLACK, NARROW } from './picture/ink.ts';
import type { Store } from './store.ts';

/** Dips are narrow: a click takes the worst block so near to it. */
const NEAR_PX = 6;

export class CurvePanel {
  private readonly store: Store;
  private drawn: { readonly key: string; readonly width: number } = { key: '', width: 0 };

  /** `chosen`: told the row clicked on, or the time alone where there is no row near. */
  constructor(store: Store, chosen: (at: { readonly row: number } | { readonly time: number }) => void) {
    this.store = store;
    for (const id of ['margin', 'movement'] as const)
      curve(id).addEventListener('click', (event) => chosen(this.rowAt(id, event)));
  }

  watch(redraw: () => void): void {
    new ResizeObserver(redraw).observe(byId('curve-box'));
  }

  draw(): void {
    const { course } = this.store.program;
    byId('no-course').hidden = course !== null;
    byId('curve-box').hidden = course === null;
    byId<HTMLButtonElement>('worst-place').disabled = course === null;
    const width = curve('margin').clientWidth;
    if (course === null || width === 0) return;
    const key = `${width} ${this.store.state.program}`;
    if (key !== this.drawn.key) {
      this.drawn = { key, width };
      for (const spec of curveSpecs(course)) this.drawOne(spec, course);
    }
    this.drawNow();
  }

  private get span() {
    return { total: this.store.program.total, width: this.drawn.width };
  }

  private drawOne(spec: CurveSpec, course: CourseColumns): void {
    byId(`${spec.id}-words`).textContent = curveWords(spec, course);
    const now = svg('line', {
      class: 'now',
      y1: TOP - 4,
      y2: TOP + PLOT + 4,
      stroke: BLACK,
      'stroke-width': NARROW * 1.5,
    });
    // With a view box the drawing shrinks whole when it is printed narrower than it stands on the screen.
    const height = curveHeight(spec);
    curve(spec.id).setAttribute('height', String(height));
    curve(spec.id).setAttribute('viewBox', `0 0 ${this.drawn.width} ${height}`);
    curve(spec.id).replaceChildren(...drawCurve(spec, course, this.span), now);
  }

  private drawNow(): void {
    const x = String(timeX(this.span, this.store.state.time));
    for (const line of document.querySelectorAll('.curve .now')) {
      line.setAttribute('x1', x);
      line.setAttribute('x2', x);
    }
  }

  private rowAt(id: CurveSpec['id'], event: MouseEvent): { readonly row: number } | { readonly time: number } {
    const { program } = this.store;
    const course = program.course!;
    const width = Math.max(1, this.drawn.width - SIDES.left - SIDES.right - 2 * THUMB);
    const per = program.total / width;
    const px = event.clientX - curve(id).getBoundingClientRect().left - SIDES.left - THUMB;
    const time = Math.max(0, Math.min(program.total, px * per));
    const spec = curveSpecs(course).find((s) => s.id === id)!;
    let best = -1;
    for (let i = 0; i < course.count; i++) {
      if (course.start[i]! > time + NEAR_PX * per || course.start[i]! + course.seconds[i]! < time - NEAR_PX * per)
        continue;
      const bad = badness(spec, i);
      if (bad > 0 && (best < 0 || bad > badness(spec, best))) best = i;
    }
    return best < 0 ? { time } : { row: best };
  }
}

function curve(id: CurveSpec['id']): SVGSVGElement {
  return byId<SVGSVGElement>(`curve-${id}`);
}
