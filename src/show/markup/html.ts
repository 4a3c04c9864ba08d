/** Small pieces of HTML. */
import { element, esc } from './element.ts';

/** A file's name, which has hyphens that must not break it. */
export function fileName(name: string): string {
  return element('span', { class: 'file' }, esc(name));
}

/** Escaped, and kept on one line. */
export function oneLine(text: string): string {
  return esc(text).replace(/ /g, '&nbsp;');
}

/** Head of a column: of figures, which stand flush right, when it begins with `#`; else of words. */
export type ColumnHead = string;

/** A table; cells are markup. No rows give nothing at all. */
export function table(heads: readonly ColumnHead[], rows: readonly (readonly string[])[], caption = ''): string {
  if (rows.length === 0) return '';
  const kind = heads.map((h) => (h.startsWith('#') ? 'n' : undefined));
  const head = heads.map((h, i) => element('th', { scope: 'col', class: kind[i] }, esc(h.replace(/^#/, ''))));
  const cells = (row: readonly string[]) => row.map((html, i) => element('td', { class: kind[i] }, html)).join('');
  const body = rows.map((r) => element('tr', {}, cells(r))).join('\n');
  const title = caption === '' ? '' : element('caption', {}, esc(caption));
  return `<table>${title}<thead><tr>${head.join('')}</tr></thead>\n<tbody>\n${body}\n</tbody></table>`;
}

/** Nothing where there is nothing to show. */
export function section(title: string, html: string, kind?: string): string {
  return html === '' ? '' : element('section', { class: kind }, `\n<h2>${esc(title)}</h2>\n${html}\n`);
}

/** Items are markup. */
export function list(items: readonly string[], tag: 'ul' | 'ol' = 'ul'): string {
  return items.length === 0 ? '' : element(tag, {}, `\n${items.map((i) => `<li>${i}</li>`).join('\n')}\n`);
}

export function para(html: string): string {
  return element('p', {}, html);
}

/** Pairs of a name and markup. */
export function facts(pairs: readonly (readonly [string, string])[]): string {
  return `<dl>\n${pairs.map(([k, v]) => `<div><dt>${esc(k)}</dt><dd>${v}</dd></div>`).join('\n')}\n</dl>`;
}

/** As a sentence: a capital and a full stop. */
export function sentence(text: string): string {
  const t = text.trim();
  if (t === '') return '';
  const first = t[0]!.toUpperCase() + t.slice(1);
  return /[.!?]$/.test(first) ? first : `${first}.`;
}
