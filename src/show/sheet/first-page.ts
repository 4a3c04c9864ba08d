/** The first page: what one needs at the bench. Its drawing takes the largest scale for which the page still holds everything. */
import type { Mm } from '../../base/units.ts';
import { esc } from '../markup/element.ts';
import { facts, para, section } from '../markup/html.ts';
import { type SetupDrawing, setupDrawing } from './drawing/setup-drawing.ts';
import { titleBlock } from './drawing/title-block.ts';
import { factsOf } from './facts.ts';
import type { Units } from './figures.ts';
import { faultLine, holdLine } from './hold-words.ts';
import type { SheetInput } from './input.ts';
import { cautionBox, SHORT_CAUTION, STATEMENT } from './safety.ts';
import { PAGE } from './style.ts';
import { cutterList, cutterTable, drawerNote } from './tables/cutters.ts';
import type { TouchOff } from './touch-place.ts';

/** How the first page is filled; what does not fit goes to the next. */
export interface FirstPage {
  readonly drawing: SetupDrawing | null;
  /** The whole table, a list of what to have at hand, or nothing of them. */
  readonly cutters: 'whole' | 'list' | 'none';
}

/**
 * The drawing comes first: the table of cutters shrinks to a list where only so it keeps full size, or the largest scale it can
 * have if that is less. Never under a quarter of the largest: then it has the next page to itself.
 */
export function layOut(input: SheetInput, u: Units, touch: TouchOff | null): FirstPage {
  const largest = largestDrawing(input, u, touch).scale.factor;
  const rest = PAGE.height - heightWithout(input, u, touch);
  for (const least of [Math.max(Math.min(1, largest), largest / 2), largest / 2, largest / 4]) {
    for (const cutters of ['whole', 'list', 'none'] as const) {
      const room = rest - heightOfCutters(input, cutters);
      const drawing = setupDrawing(input, u, touch, [PAGE.width, room - CAPTION]);
      if (drawing.scale.factor < least - 1e-9) continue;
      // Reduced, names would stand on one another; the larger drawing has them.
      const crowded = drawing.scale.factor < Math.min(1, largest) - 1e-9;
      return {
        drawing: crowded ? setupDrawing(input, u, touch, [PAGE.width, room - CAPTION], false) : drawing,
        cutters,
      };
    }
  }
  return { drawing: null, cutters: 'whole' };
}

export function firstPage(input: SheetInput, u: Units, touch: TouchOff | null, page: FirstPage): string {
  const { drawing } = page;
  return [
    '<div class="first">',
    `<h1>${esc(input.job.name)}</h1>`,
    faultLine(input),
    cautionBox(input, u),
    facts(factsOf(input, u, touch)),
    `<p class="held">${esc(holdLine(input, u))}</p>`,
    drawing === null ? para('Drawing: see the next page.') : figure(drawing, u),
    cuttersOn(page, input, u),
    `<div class="foot"><p>${esc(SHORT_CAUTION)} <span class="mark">${esc(STATEMENT)}</span></p>${titleBlock(input, u, drawing?.scale ?? null)}</div>`,
    '</div>',
  ].join('\n');
}

function cuttersOn(page: FirstPage, input: SheetInput, u: Units): string {
  if (page.cutters === 'whole') return cutterTable(input, u) + drawerNote(input);
  return page.cutters === 'list' ? cutterList(input, u) : para('All cutters: see “Cutters”.');
}

/** The drawing on a page of its own, where that allows a larger scale than the first page does; else nothing. */
export function drawingPage(input: SheetInput, u: Units, touch: TouchOff | null, page: FirstPage): string {
  const large = largestDrawing(input, u, touch);
  if (page.drawing?.scale.text === large.scale.text) return '';
  return section(page.drawing === null ? 'The set-up' : 'The set-up, drawn larger', figure(large, u));
}

function largestDrawing(input: SheetInput, u: Units, touch: TouchOff | null): SetupDrawing {
  return setupDrawing(input, u, touch, [PAGE.width, PAGE.height - 14 - CAPTION]);
}

/*
 * Heights are reckoned, not measured: no browser is at hand. Figures are for the widest of the usual sans-serif faces, so
 * that the page holds with any of them (a print test counts the pages).
 */
const LINE: Mm = 4.3;
const HEAD: Mm = 9;
/** Caution and statement in four lines, title block. */
const FOOT: Mm = 39;
/** Caption of the figure and its margins. */
const CAPTION: Mm = 11;

function heightWithout(input: SheetInput, u: Units, touch: TouchOff | null): Mm {
  const held = heightOfWords(holdLine(input, u), 84) + 9;
  const boxes = heightOfBox(faultLine(input)) + heightOfBox(cautionBox(input, u));
  return HEAD + boxes + heightOfFacts(factsOf(input, u, touch)) + held + FOOT;
}

/** Two columns, broken where the higher of the two is least. */
function heightOfFacts(pairs: readonly (readonly [string, string])[]): Mm {
  const each = pairs.map(([, html]) => heightOfWords(words(html), 43) + 1.2);
  const sum = (list: readonly Mm[]): Mm => list.reduce((a, b) => a + b, 0);
  return Math.min(...each.map((_, i) => Math.max(sum(each.slice(0, i)), sum(each.slice(i)))));
}

function heightOfCutters(input: SheetInput, how: FirstPage['cutters']): Mm {
  const { cutters } = input.plan;
  if (how === 'none') return 6;
  if (how === 'list') return 9 + Math.ceil(cutters.length / 3) * 5.2;
  const note = cutters.some((c) => c.fromDrawer) ? 6 : 0;
  const rows = cutters.map((c) => (c.kind.length > 16 ? 9.4 : 5.3));
  return 13 + rows.reduce((a, b) => a + b, 0) + note;
}

/** Each item a line of its own, wrapped. */
function heightOfBox(html: string): Mm {
  if (html === '') return 0;
  const items = html.split('<li>').map((part) => heightOfWords(words(part), 76) + 0.8);
  return 9 + items.reduce((a, b) => a + b, 0);
}

function heightOfWords(text: string, perLine: number): Mm {
  return Math.ceil(text.length / perLine) * LINE;
}

/** What is left of markup when it is read. */
function words(html: string): string {
  return html.replace(/<[^>]*>/g, '');
}

function figure(drawing: SetupDrawing, u: Units): string {
  const dropped = drawing.dropped === 0 ? '' : ` ${drawing.dropped} figures are left to the tables for want of room.`;
  const named = drawing.named ? '' : ' Names of tabs, holes and parts: see the larger drawing.';
  const text = `Scale ${drawing.scale.text} when printed without “fit to page”. First-angle projection; running dimensions from the zero, ${u.name}. Grey: slot; T: tab; long-dashed double-dotted: clamps and what lies beneath; dashed: hidden ends of the part.${dropped}${named}`;
  return `<figure>${drawing.svg}<figcaption>${esc(text)}</figcaption></figure>`;
}
