/**
 * Look of the sheet: a drawing-office sheet. One type family, thin rules, white space; black on white, two colours of the
 * Okabe-Ito palette (vermilion for zero and touch-off, blue for tabs), each beside a word that says the same.
 * A4 with margins of 12 mm at the sides, 10 above and 13 below leaves 186 x 274 mm. Lettering never under 2.5 mm high capitals in drawings (ISO 3098 series).
 */
export const PAGE = { width: 186, height: 271 } as const;

export const COLOURS = { zero: '#D55E00', tab: '#0072B2', black: '#000000' } as const;

export const STYLE = `
.file { white-space: nowrap; }
@page { size: A4; margin: 10mm 12mm 13mm 12mm; @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt sans-serif; } }
* { box-sizing: border-box; }
html { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
body { margin: 0 auto; max-width: 186mm; font-family: Helvetica, Arial, "Liberation Sans", "DejaVu Sans", sans-serif; font-size: 9pt; line-height: 1.35; color: #000; background: #fff; }
h1 { font-size: 15pt; font-weight: 600; margin: 0 0 1.5mm; }
h2 { font-size: 10.5pt; font-weight: 600; margin: 4.5mm 0 1.5mm; padding-bottom: 0.6mm; border-bottom: 0.25mm solid #000; break-after: avoid; }
h3 { font-size: 9pt; font-weight: 600; margin: 3mm 0 1mm; break-after: avoid; }
p { margin: 0 0 1.5mm; }
.page { break-before: page; }
.first { display: flex; flex-direction: column; min-height: 271mm; }
.first .foot { break-inside: avoid; margin-top: auto; padding-top: 3mm; }
table { border-collapse: collapse; width: 100%; margin: 0 0 2mm; font-size: 8.5pt; font-variant-numeric: tabular-nums; }
caption { text-align: left; padding: 1.5mm 0 0.8mm; font-weight: 600; break-after: avoid; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
tbody tr:first-child { break-before: avoid; }
th { text-align: left; font-weight: 600; font-size: 8pt; vertical-align: bottom; border-bottom: 0.25mm solid #000; padding: 0.5mm 1.5mm 0.5mm 0; }
td { vertical-align: top; border-bottom: 0.13mm solid #999; padding: 0.6mm 1.5mm 0.6mm 0; }
th.n, td.n { text-align: right; white-space: nowrap; }
th.n + th:not(.n), td.n + td:not(.n) { padding-left: 3mm; }
ul, ol { margin: 0 0 2mm; padding-left: 5mm; }
li { margin: 0 0 0.8mm; break-inside: avoid; }
dl { margin: 0; columns: 2; column-gap: 6mm; }
dl div { display: flex; gap: 2mm; break-inside: avoid; padding: 0.5mm 0; border-bottom: 0.13mm solid #999; }
dt { flex: 0 0 20mm; font-weight: 600; }
dd { margin: 0; flex: 1; min-width: 0; overflow-wrap: anywhere; }
svg text { paint-order: stroke; stroke: #fff; stroke-width: 0.6; }
svg { display: block; margin: 0 auto; max-width: 100%; height: auto; break-inside: avoid; }
figure { margin: 2mm 0; break-inside: avoid; }
figcaption { font-size: 8pt; }
.title { width: 100%; border: 0.5mm solid #000; font-size: 8.5pt; margin: 0; }
.title td { border: 0.25mm solid #000; padding: 0.8mm 1.5mm; width: 25%; overflow-wrap: anywhere; }
.title small { display: block; font-size: 7pt; }
.held { border: 0.5mm solid #000; padding: 2mm 3mm; margin: 2mm 0; font-weight: 600; }
.mark { font-weight: 600; }
.n3 { columns: 3; column-gap: 5mm; }
.plain { list-style: none; padding: 0; }
@media screen { body { padding: 8mm; max-width: 202mm; } }
`.trim();
