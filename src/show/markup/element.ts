/** Elements of HTML and SVG as text. Text of a job goes through `esc`; what is called `html` or `inner` is markup already. */

const NAMED: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };

/** Fit for text and for attributes; control characters, which no markup may hold, become blanks. */
export function esc(text: string): string {
  return Array.from(
    text.replace(/[&<>"']/g, (c) => NAMED[c]!),
    (c) => (c < ' ' ? ' ' : c),
  ).join('');
}

/** Written in their own order; undefined ones are left out. */
export type MarkupAttributes = Readonly<Record<string, string | number | undefined>>;

/** Without `inner` it closes itself, as SVG's shapes do. */
export function element(name: string, attributes: MarkupAttributes, inner?: string): string {
  const written = Object.entries(attributes).map(([k, v]) => (v === undefined ? '' : ` ${k}="${esc(`${v}`)}"`));
  const open = `<${name}${written.join('')}`;
  return inner === undefined ? `${open}/>` : `${open}>${inner}</${name}>`;
}
