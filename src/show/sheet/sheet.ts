/**
 * The set-up sheet: one HTML file on A4 that is enough to set the job up without the computer. No script, no network.
 * The first page is what one needs at the bench; the rest follows in the order it is needed.
 */

import { esc } from '../markup/element.ts';
import { section } from '../markup/html.ts';
import { benchWork, cleanUp } from './afterwards.ts';
import { byHand } from './by-hand/by-hand-page.ts';
import { type Units, unitsOf } from './figures.ts';
import { drawingPage, type FirstPage, firstPage, layOut } from './first-page.ts';
import { holdDetails } from './hold-words.ts';
import type { SheetInput } from './input.ts';
import { edgeSetups } from './on-edge.ts';
import { defaultsTaken, jobCautions, jobNotes, proofTable, usualCautions } from './safety.ts';
import { STYLE } from './style.ts';
import { cutterTable, drawerNote } from './tables/cutters.ts';
import { holeTables } from './tables/holes.ts';
import { inspection } from './tables/inspect.ts';
import { operationTables } from './tables/operations.ts';
import { powerFailure, restartTable, stopTable } from './tables/stops.ts';
import { type TouchOff, touchPlaceOf } from './touch-place.ts';

export type { SheetInput } from './input.ts';

/** A whole HTML document. Lengths in the job's units. */
export function setupSheet(input: SheetInput): string {
  const u = unitsOf(input.job.units);
  const touch = touchPlaceOf(input);
  const page = layOut(input, u, touch);
  return [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'\">",
    '<meta name="viewport" content="width=device-width">',
    `<title>${esc(input.job.name)}: set-up sheet</title>`,
    `<style>\n${STYLE}\n</style>`,
    '</head>',
    '<body>',
    '<main>',
    firstPage(input, u, touch, page),
    ...laterPages(input, u, touch, page),
    '</main>',
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

/** Sections follow one another without empty space; only the figures to turn by hand, which go to another machine, begin a page. */
function laterPages(input: SheetInput, u: Units, touch: TouchOff | null, page: FirstPage): string[] {
  return [
    '<div class="page">',
    drawingPage(input, u, touch, page),
    page.cutters === 'whole' ? '' : section('Cutters', cutterTable(input, u) + drawerNote(input)),
    section('Cautions for this job', jobCautions(input, u)),
    section('Cautions', usualCautions(input)),
    '</div>',
    section('Operations in order', operationTables(input, u)),
    section('At each stop', stopTable(input)),
    section('Beginning again', restartTable(input)),
    section('After a power failure', powerFailure(input, u, touch)),
    section('Holes', holeTables(input, u)),
    section('Holding', holdDetails(input, u)),
    section('Parts on edge', edgeSetups(input, u)),
    section('Freeing and cleaning the part', cleanUp(input, u)),
    section('Bench work', benchWork(input)),
    section('Inspection', inspection(input, u)),
    section('What the check says', proofTable(input, u)),
    section('Notes', jobNotes(input, u)),
    section('Defaults taken', defaultsTaken(input)),
    section('By hand: the same plan with a readout and a rotary table', byHand(input, u), 'page'),
  ];
}
