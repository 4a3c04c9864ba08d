/** The page as one HTML text: everything that can be said without a script stands in it, the script fills in the rest. */
import { short } from '../../base/text.ts';
import { element, esc } from '../markup/element.ts';
import type { ViewData, ViewFinding } from './data/view-data.ts';
import { legend } from './legend.ts';
import { sha256Base64 } from './sha256.ts';
import { STYLE } from './style.ts';

export interface PageBundle {
  /** The page's script and the worker's, each a classic script. */
  readonly script: string;
  readonly worker: string;
  /** SHA-256 in base64, where the machine has one that is quicker than the page's own. */
  readonly hash?: (text: string) => string;
}

/** The whole page. Pure: the same data and bundle give the same bytes. */
export function viewPage(data: ViewData, bundle: PageBundle): string {
  const script = inScript(bundle.script);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy(script, bundle.hash ?? sha256Base64)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${esc(data.name)}: view</title>
<style>${STYLE}</style>
</head>
<body>
${header(data)}
<main>
<div class="stack">
${DRAWING}
${AXIS}
</div>
<div class="stack">
${MOMENT}
${LISTING}
</div>
${foundSection(data)}
<div class="columns wide">
${listSection('Before cutting', data.cautions)}
${MEASURE}
${listSection('Held by', data.holding)}
${listSection('Proven by the check', [...data.proven, ...data.notProven.map((n) => `Not proven: ${n}`)])}
${legend(data)}
${KEYS}
</div>
</main>
<script type="application/json" id="view-data">${json(data)}</script>
<script type="text/plain" id="worker-script">${inScript(bundle.worker)}</script>
<script>${script}</script>
</body>
</html>
`;
}

/** Nothing may be fetched; only this page's own script and style run, known by their hash, and its worker from a blob. */
function policy(script: string, hash: (text: string) => string): string {
  return [
    "default-src 'none'",
    `script-src 'sha256-${hash(script)}'`,
    `style-src 'sha256-${hash(STYLE)}'`,
    'worker-src blob:',
    'img-src data: blob:',
    "base-uri 'none'",
    "form-action 'none'",
  ].join('; ');
}

/** A script's text must not hold what ends or comments out its element. */
function inScript(code: string): string {
  return code.replace(/<\/(script)/gi, '<\\/$1').replace(/<!--/g, '<\\!--');
}

function json(data: ViewData): string {
  return JSON.stringify(data).replace(/</g, '\\u003c');
}

function header(data: ViewData): string {
  const faults = data.findings.filter((f) => f.severity === 'fault').length;
  const cautions = data.findings.filter((f) => f.severity === 'caution').length;
  const count = (n: number, word: string) => `${n} ${word}${n === 1 ? '' : 's'}`;
  const verdict =
    faults > 0
      ? `Not released: ${count(faults, 'fault')}, ${count(cautions, 'caution')}`
      : data.hasJob
        ? `Checked against the job: no fault, ${count(cautions, 'caution')}`
        : `Language and limits checked, no job given: no fault, ${count(cautions, 'caution')}`;
  const stuff = [
    data.material,
    data.thickness === null ? null : `${short(data.thickness)} mm thick`,
    data.parts.length > 1 ? `${data.parts.length} parts` : null,
    'millimetres',
  ].filter((s) => s !== null);
  return `<header><h1>${esc(data.name)}</h1><p>${stuff.map(esc).join(', ')}</p><p class="verdict${faults > 0 ? ' faulty' : ''}">${verdict}</p></header>`;
}

const check = (key: string, label: string) =>
  `<div><input type="checkbox" id="shown-${key}"><label for="shown-${key}">${label}</label></div>`;

const DRAWING = `<section aria-labelledby="h-drawing">
<div class="title"><h2 id="h-drawing">The work</h2>
<div class="choices">
<div><label for="program">Program</label><select id="program"></select></div>
<fieldset><legend>Seen</legend><div><input type="radio" name="view" id="view-plan"><label for="view-plan">in plan</label></div><div><input type="radio" name="view" id="view-free"><label for="view-free">from any side</label></div></fieldset>
<div class="bar"><button type="button" id="nearer">Nearer</button><button type="button" id="farther">Farther</button><button type="button" id="whole">Whole plate</button></div>
</div></div>
<div id="stage" tabindex="0" role="group" aria-label="Drawing of the work. Arrow keys move or turn it, plus and minus bring it nearer or farther, 0 shows the whole.">
<canvas id="plan-field" class="plan" aria-hidden="true"></canvas>
<svg id="plan-drawing" class="plan" aria-hidden="true"><defs><pattern id="clamp-hatch" width="1.6" height="1.6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="1.6" height="1.6" fill="#fff" fill-opacity=".6"/><path d="M0 0V1.6" stroke="#000" stroke-width=".12"/></pattern></defs><g id="plan-work"></g></svg>
<canvas id="plan-path" class="plan" aria-hidden="true"></canvas>
<canvas id="free" class="free" aria-hidden="true"></canvas>
<svg id="over" aria-hidden="true"></svg>
</div>
<div class="bar controls"><details><summary>What is drawn</summary><div class="choices">
<fieldset><legend>Drawn</legend>${check('stock', 'stock as cut')}${check('path', 'cutter’s path')}${check('rapids', 'rapids')}${check('wholePath', 'paths of every operation')}${check('clamps', 'clamps')}${check('holder', 'holder of the cutter')}${check('marks', 'faults and marks')}</fieldset>
<fieldset id="cutter-choices"><legend>Paths of cutter</legend></fieldset>
</div></details><span id="view-words" class="small"></span><span id="field-progress" class="small push" role="status"></span></div>
<noscript><p>This page needs its own script to show the work moving. The findings and cautions below stand without it.</p></noscript>
</section>`;

const MOMENT = `<section aria-labelledby="h-moment">
<h2 id="h-moment">At this moment</h2>
<p id="axis-words" role="status"></p>
<dl id="moment-facts"></dl>
<h2>What holds the part now</h2>
<ul id="moment-holds"></ul>
</section>`;

const AXIS = `<section aria-labelledby="h-axis">
<div class="title"><h2 id="h-axis">Along the program</h2>
<div class="bar controls"><span><label for="rate">Run at</label> <select id="rate"><option value="1">true speed</option><option value="10" selected>10 times</option><option value="60">60 times</option><option value="300">300 times</option></select></span><button type="button" id="worst-place">Worst place for holding</button></div>
<output id="clock" for="time"></output></div>
<div class="bar controls steps">
<button type="button" id="to-start">Start</button><button type="button" id="operation-before">Operation before</button><button type="button" id="block-before">Block before</button><button type="button" id="move-before">Move before</button><button type="button" id="run">Run</button><button type="button" id="move-after">Move after</button><button type="button" id="block-after">Block after</button><button type="button" id="operation-after">Operation after</button><button type="button" id="to-end">End</button>
</div>
<div class="time no-print"><label for="time" class="small">Time</label><input type="range" id="time" min="0" max="100000" step="1" value="100000"></div>
<div id="curve-box">
<p id="margin-words" class="small"></p><svg id="curve-margin" class="curve" role="img" aria-labelledby="margin-words"></svg>
<p id="movement-words" class="small"></p><svg id="curve-movement" class="curve" role="img" aria-labelledby="movement-words"></svg>
<p class="small no-print">A click on a curve leads to the worst block near it; the button “Worst place for holding” goes from one to the next.</p>
</div>
<p id="no-course" hidden>Holding margin, force and movement along the program have not been worked out for this program, so there are no curves. Times are lengths over feeds, without acceleration.</p>
</section>`;

const LISTING = `<section id="listing-box" aria-labelledby="h-listing">
<h2 id="h-listing">Program text</h2>
<div id="listing" tabindex="0" role="listbox" aria-labelledby="h-listing"><div id="listing-space" role="presentation"></div></div>
<p id="line-in-full" aria-hidden="true"></p>
<p class="small">A line chosen here sets the time; up and down go from move to move.</p>
</section>`;

const MEASURE = `<section class="no-print" aria-labelledby="h-measure">
<h2 id="h-measure">Measure</h2>
<div class="bar"><button type="button" id="measure-pick" aria-pressed="false">Pick two points</button><button type="button" id="measure-clear">Clear</button></div>
<div class="bar"><span>From</span><label for="from-x">X</label><input type="text" inputmode="decimal" id="from-x"><label for="from-y">Y</label><input type="text" inputmode="decimal" id="from-y"></div>
<div class="bar"><span>To</span><label for="to-x">X</label><input type="text" inputmode="decimal" id="to-x"><label for="to-y">Y</label><input type="text" inputmode="decimal" id="to-y"></div>
<p id="measure-result" role="status"></p>
<p class="small">Centres of holes and arcs, ends of edges and tabs are taken exactly when the pick is near them.</p>
</section>`;

const KEYS = `<section class="keys" aria-labelledby="h-keys">
<h2 id="h-keys">Keys</h2>
<dl><dt>B, N</dt><dd>block before, block after</dd><dt>J, K</dt><dd>move before, move after, within a cycle too</dd><dt>I, O</dt><dd>operation before, operation after</dd><dt>R</dt><dd>run or halt</dd><dt>W</dt><dd>next worst place for holding</dd><dt>V</dt><dd>plan or free view</dd><dt>H</dt><dd>holder shown or hidden</dd><dt>Page up, page down</dt><dd>in the program text: twenty lines</dd><dt>M</dt><dd>measure</dd><dt>Escape</dt><dd>halt, forget the marked place</dd><dt>On the time axis</dt><dd>arrows: block by block; page up and down: operations; Home, End</dd><dt>On the drawing</dt><dd>arrows, plus, minus, 0; with Shift the free view moves instead of turning</dd></dl>
</section>`;

function listSection(title: string, lines: readonly string[]): string {
  if (lines.length === 0) return '';
  const id = `h-${title.toLowerCase().replace(/[^a-z]+/g, '-')}`;
  const items = lines.map((l) => element('li', {}, esc(l))).join('');
  return element('section', { 'aria-labelledby': id }, `<h2 id="${id}">${title}</h2><ul>${items}</ul>`);
}

function foundSection(data: ViewData): string {
  const button = (f: ViewFinding, i: number) =>
    element('button', { type: 'button', 'data-finding': i }, esc(findingWords(f, i)));
  const items = data.findings.map((f, i) => element('li', {}, button(f, i)));
  const empty = '<p>The check found nothing to tell.</p>';
  return `<div class="pair wide"><section aria-labelledby="h-findings">
<h2 id="h-findings">Faults and cautions</h2>
${items.length === 0 ? empty : ''}<ul id="findings" class="found">${items.join('')}</ul>
</section><section aria-labelledby="h-places">
<h2 id="h-places">Gouged or uncut in the picture</h2>
<p id="places-intro"></p>
<ul id="places" class="found"></ul>
</section></div>`;
}

function findingWords(f: ViewFinding, index: number): string {
  const name = { fault: 'Fault', caution: 'Caution', note: 'Note' }[f.severity];
  const where = f.block > 0 ? `, block ${f.block}` : '';
  const size = f.size === null ? '' : ` (${short(f.size, 3)} mm)`;
  const rest = [f.found, f.wanted === '' ? '' : `wanted: ${f.wanted}`, f.remedy].filter((s) => s !== '').join('; ');
  return `${name} ${index + 1}${where}: ${rest}${size}`;
}
