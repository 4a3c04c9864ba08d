/** What a file is, by its beginning: a wrong file is told by what it is, not by the first character that does not read. */

export type KindOfText = 'job' | 'dxf' | 'markup' | 'program';

const BEGINNINGS: readonly (readonly [KindOfText, RegExp])[] = [
  // A brace or a list, after comments; no line of RS-274 begins so.
  ['job', /^\s*([{[]|\/[/*])/],
  // A DXF file begins with group code 0 and SECTION, or with a comment, group code 999 (DXF reference, group codes).
  ['dxf', /^\s*(0\s*\r?\n\s*SECTION\b|999\s*\r?\n)/],
  // SVG, any page, or a text with a heading; `#1=` and `#[` begin lines of RS-274 (NISTIR 6556, 3.3.2.1).
  ['markup', /^\s*(<|#(?!\s*[\d[]))/],
  // A percent frame, or a line of words that nothing else here begins with (NISTIR 6556, 3.3).
  ['program', /^\s*(%\s*(\r?\n|$)|\(|#|[GMNTSO]\s*\d)/i],
];

/** Letters that are looked at. */
const BEGINNING = 4096;

/** null: it may be anything, and tells more when it is read. */
export function kindOfText(text: string): KindOfText | null {
  const start = text.slice(0, BEGINNING).replace(/^\uFEFF/, '');
  return BEGINNINGS.find(([, begins]) => begins.test(start))?.[0] ?? null;
}

/** What was found, and the command for it; `FILE` stands for the file's name. */
export const KIND_WORDS: Readonly<Record<KindOfText, { readonly found: string; readonly remedy: string }>> = {
  job: { found: 'a job file in JSON', remedy: 'run `tabwright make FILE`' },
  dxf: { found: 'a drawing in DXF', remedy: 'run `tabwright outline FILE -o job.json` for a job to start from' },
  markup: {
    found: 'a drawing in SVG, or other markup',
    remedy: 'if it is a drawing, run `tabwright outline FILE -o job.json` for a job to start from',
  },
  program: { found: 'a program in RS-274', remedy: 'run `tabwright check FILE`, or `tabwright view FILE`' },
};
