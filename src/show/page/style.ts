/** The page's style: a drawing-office sheet. One type family, black on white, narrow frames, white space; colours only with a meaning. */

export const STYLE = `
/* Where none of the usual faces is installed, the one that most such systems have is an eighth wider: taken at their width, lines break as they do there. */
@font-face { font-family: "wide face"; src: local("DejaVu Sans"), local("Verdana"); size-adjust: 87%; }
@font-face { font-family: "wide face"; font-weight: 600 700; src: local("DejaVu Sans Bold"), local("Verdana Bold"); size-adjust: 81%; }
:root { font: 100%/1.5 Arial, "Liberation Sans", Helvetica, "wide face", sans-serif; font-variant-numeric: tabular-nums; color: #000; background: #fff; }
* { box-sizing: border-box; }
body { margin: 0; padding: .75rem 2rem 3rem; max-width: 110rem; margin-inline: auto; }
h1 { font-size: 1.6rem; font-weight: 600; margin: 0; }
h2, .title { font-size: 1rem; font-weight: 600; margin: 0 0 .5rem; padding: .25rem 0; border-bottom: 2px solid #000; }
.title { padding-top: 0; display: flex; flex-wrap: wrap; gap: 0 1.5rem; align-items: center; justify-content: space-between; }
.title h2 { margin: 0; padding: 0; border: 0; }
.title > :not(h2) { font-weight: 400; }
.title .choices, .title .bar { margin: 0; align-items: center; }
.title .choices { gap: .25rem 1rem; font-size: .9rem; }
.title legend { margin-right: .5rem; }
#program { max-width: 15rem; }
p, ul, ol, dl { margin: 0 0 .75rem; }
header { display: flex; flex-wrap: wrap; gap: .25rem 2.5rem; align-items: baseline; margin-bottom: .75rem; }
header p { margin: 0; }
.verdict { font-weight: 600; }
.verdict.faulty { border: 2px solid #000; padding: 0 .6rem; }
main { display: grid; grid-template-columns: minmax(0, 1fr); gap: 1.75rem 2.5rem; }
@media (min-width: 64rem) {
  main { grid-template-columns: minmax(0, 2.2fr) minmax(19rem, 1fr); }
  .wide { grid-column: 1 / -1; }
}
.stack { display: grid; grid-template-columns: minmax(0, 1fr); gap: .5rem; align-content: start; }
summary { font-weight: 600; cursor: pointer; }
details[open] summary { margin-bottom: .5rem; }
.choices { display: flex; flex-wrap: wrap; gap: .5rem 2rem; margin-bottom: .75rem; align-items: flex-start; }
fieldset { border: 0; margin: 0; padding: 0; display: flex; flex-wrap: wrap; gap: .1rem 1rem; align-items: baseline; }
legend { float: left; margin-right: 1rem; padding: 0; font-weight: 600; }
fieldset div { white-space: nowrap; }
label { margin-left: .25rem; }
.choices > div > label { font-weight: 600; margin: 0 .5rem 0 0; }
input[type="checkbox"], input[type="radio"] { width: 1rem; height: 1rem; margin: 0; vertical-align: -.15rem; accent-color: #000; }
button, select, input[type="text"] { font: inherit; color: #000; background: #fff; border: 1px solid #000; border-radius: 0; padding: .2rem .7rem; min-height: 2rem; }
button:hover:not(:disabled) { background: #ecebe6; }
button:disabled { color: #595959; border-style: dashed; border-color: #595959; }
button[aria-pressed="true"] { background: #000; color: #fff; }
input[type="text"] { width: 6rem; }
.title button, .title select, .controls button, .controls select { font-size: .9rem; padding: .1rem .45rem; min-height: 1.75rem; }
:focus-visible { outline: 3px solid #0072b2; outline-offset: 2px; }
/* As high as leaves the curves in the first screen: the rest is all else above and below it. In one column the words on a chosen place follow them. */
#stage { position: relative; height: clamp(18rem, 100vh - 44rem, 42rem); border: 1px solid #000; background: #fff; overflow: hidden; touch-action: none; cursor: grab; }
@media (min-width: 64rem) { #stage { height: clamp(18rem, 100vh - 31rem, 42rem); } }
#stage.measuring { cursor: crosshair; }
#stage canvas, #stage svg { position: absolute; inset: 0; width: 100%; height: 100%; }
#stage[data-view="plan"] .free, #stage[data-view="free"] .plan { display: none; }
.label { font-size: 13px; fill: #000; paint-order: stroke; stroke: #fff; stroke-width: 3px; stroke-linejoin: round; }
.free-label { position: absolute; left: 0; top: 0; font-size: 13px; white-space: nowrap; background: #fff; padding: 0 .2rem; border: 1px solid #000; pointer-events: none; }
.bar { display: flex; flex-wrap: wrap; gap: .35rem .5rem; align-items: center; margin: .35rem 0; }
.bar .push { margin-left: auto; }
.time { display: grid; grid-template-columns: 48px minmax(0, 1fr) 72px; align-items: center; }
.time label { margin: 0; }
input[type="range"] { width: 100%; margin: 0; accent-color: #000; height: 1.5rem; }
.curve { display: block; width: 100%; cursor: pointer; overflow: visible; margin-bottom: .35rem; }
#curve-box p { margin-bottom: 0; }
#axis-words:empty { margin: 0; }
#axis-words:not(:empty) { border: 1px solid #000; padding: .35rem .7rem; }
dl { display: grid; grid-template-columns: max-content minmax(0, 1fr); gap: .1rem 1rem; }
dt { font-weight: 600; }
dd { margin: 0; white-space: pre-wrap; overflow-wrap: anywhere; }
#listing { position: relative; height: 22rem; overflow: auto; border: 1px solid #000; font-size: 0.875rem; }
#line-in-full { margin: .25rem 0 .5rem; font-size: .875rem; overflow-wrap: anywhere; min-height: 3em; }
#listing-space { position: relative; }
#listing [role="option"] { position: absolute; left: 0; right: 0; display: flex; white-space: pre; cursor: pointer; }
#listing [aria-selected="true"] { background: #000; color: #fff; }
.line-number { flex: none; min-width: 3.2rem; padding-right: .75rem; text-align: right; color: #595959; }
[aria-selected="true"] .line-number { color: #fff; }
ul, ol { padding-left: 1.25rem; }
ul.found { list-style: none; padding: 0; }
ul.found li { margin-bottom: .4rem; }
ul.found button { text-align: left; width: 100%; padding: .35rem .7rem; }
.columns { columns: 3 24rem; column-gap: 2.5rem; }
.columns > section { break-inside: avoid; margin-bottom: 1.75rem; }
.pair { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 24rem), 1fr)); gap: 1.75rem 2.5rem; }
.legend { display: grid; grid-template-columns: 5rem minmax(0, 1fr); gap: .3rem 1rem; align-items: center; margin: 0; padding: 0; list-style: none; }
.legend svg { width: 5rem; height: 1.25rem; display: block; }
.keys dt { font-weight: 600; }
.small { font-size: .9rem; }
[hidden] { display: none !important; }
@page { size: A4; margin: 12mm; }
@media print {
  body { padding: 0; font-size: 9pt; }
  main, .pair, .stack { display: block; }
  .columns { columns: 2; }
  .controls, .choices, #listing-box, .keys, .no-print { display: none !important; }
  #stage { height: 100mm; min-height: 0; break-inside: avoid; }
  #stage canvas { object-fit: contain; }
  section { margin-bottom: 5mm; }
  h2 { break-after: avoid; }
  li, dl, .legend { break-inside: avoid; }
  .columns > section { break-inside: auto; }
  button { border: 0; padding: 0 !important; }
}
`;
