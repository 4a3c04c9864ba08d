/** The first page: what one needs at the bench. Its drawing takes the largest scale for which the page still holds everything. */
import type { Mm } from '../../base/units.ts';
import { cutterTable, drawerNote } from './cutters.ts';
import { factsOf } from './facts.ts';
import type { Units } from './figures.ts';
import { faultLine, holdLine } from './hold-words.ts';
import { esc, facts, para, section } from './html.ts';
import type { SheetInput } from './input.ts';
import { SHORT_CAUTION, STATEMENT } from './safety.ts';
import { type SetupDrawing, setupDrawing } from './setup-drawing.ts';
import { PAGE } from './style.ts';
import { titleBlock } from './title-block.ts';
import type { TouchPlace } from './touch-place.ts';

export function firstPage(input: SheetInput, u: Units, touch: TouchPlace | null): string {
  const few = cuttersFit(input);
  const pairs = factsOf(input, u, touch);
  const hold = holdLine(input, u);
  const faults = faultLine(input);
  const cutters = few ? cutterTable(input, u) + drawerNote(input) : para('Cutters: see the next page.');
  const taken =
    HEAD +
    heightOfFacts(pairs) +
    heightOfWords(hold, 78) +
    9 +
    heightOfWords(words(faults), 78) +
    heightOfCutters(input) +
    FOOT;
  const small = setupDrawing(input, u, touch, [PAGE.width, PAGE.height - taken]);
  const drawing = small.scale.factor < largestDrawing(input, u, touch).scale.factor / 2 - 1e-9 ? null : small;
  return [
    '<div class="first">',
    `<h1>${esc(input.job.name)}</h1>`,
    faults,
    facts(pairs),
    `<p class="held">${esc(hold)}</p>`,
    drawing === null ? para('Drawing: see the next page.') : figure(drawing, u),
    cutters,
    `<div class="foot"><p>${esc(SHORT_CAUTION)} <span class="mark">${esc(STATEMENT)}</span></p>${titleBlock(input, u, drawing?.scale ?? null)}</div>`,
    '</div>',
  ].join('\n');
}

/** The drawing on a page of its own, where that allows a larger scale than the first page does; else nothing. */
export function drawingPage(input: SheetInput, u: Units, touch: TouchPlace | null, first: string): string {
  const large = largestDrawing(input, u, touch);
  const same = first.includes(`Scale ${large.scale.text} `);
  return same ? '' : section('The set-up, drawn larger', figure(large, u), 'page');
}

function largestDrawing(input: SheetInput, u: Units, touch: TouchPlace | null): SetupDrawing {
  return setupDrawing(input, u, touch, [PAGE.width, PAGE.height - 14 - CAPTION]);
}

/** More than this and their table goes to the second page whole, rather than in smaller lettering. */
const CUTTERS_ON_FIRST_PAGE = 8;

export function cuttersFit(input: SheetInput): boolean {
  return input.plan.cutters.length <= CUTTERS_ON_FIRST_PAGE;
}

/*
 * Heights are reckoned, not measured: no browser is at hand. Figures are for the widest of the usual sans-serif faces, so
 * that the page holds with any of them (a print test counts the pages).
 */
const LINE: Mm = 4.3;
const HEAD: Mm = 9;
/** Caution and statement in four lines, title block. */
const FOOT: Mm = 36;
/** Caption of the figure and its margins. */
const CAPTION: Mm = 11;

function heightOfFacts(pairs: readonly (readonly [string, string])[]): Mm {
  const each = pairs.map(([, html]) => heightOfWords(words(html), 36) + 1.2);
  return each.reduce((a, b) => a + b, 0) / 2 + Math.max(...each) / 2;
}

function heightOfCutters(input: SheetInput): Mm {
  if (!cuttersFit(input)) return 6 + CAPTION;
  const note = input.plan.cutters.some((c) => c.fromDrawer) ? 6 : 0;
  const rows = input.plan.cutters.map((c) => (c.kind.length > 16 ? 9.4 : 5.3));
  return 13 + rows.reduce((a, b) => a + b, 0) + note + CAPTION;
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
  const text = `Scale ${drawing.scale.text} when printed without “fit to page”. First-angle projection; running dimensions from the zero, ${u.name}. Grey: slot; T: tab; long-dashed double-dotted: clamps and what lies beneath; dashed: hidden ends of the part.${dropped}`;
  return `<figure>${drawing.svg}<figcaption>${esc(text)}</figcaption></figure>`;
}
