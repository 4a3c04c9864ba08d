/** Small pieces of HTML. Text from a job is escaped by `esc`; what these functions take as `html` is already markup. */

export function esc(text: string): string {
  const named: Readonly<Record<string, string>> = {
    '&': '&amp;',
    '<': '&lt;',
    '>': '&gt;',
    '"': '&quot;',
    "'": '&#39;',
  };
  return Array.from(
    text.replace(/[&<>"']/g, (c) => named[c]!),
    (c) => (c < ' ' ? ' ' : c),
  ).join('');
}

/** Escaped, and kept on one line. */
/** A file's name, which has hyphens that must not break it. */
export function fileName(name: string): string {
  return `<span class="file">${esc(name)}</span>`;
}

export function oneLine(text: string): string {
  return esc(text).replace(/ /g, '&nbsp;');
}

export interface Column {
  readonly head: string;
  /** Figures stand flush right, words flush left. */
  readonly kind?: 'figure' | 'words';
}

/** A table; cells are markup. Empty rows give nothing at all. */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[], caption = ''): string {
  if (rows.length === 0) return '';
  const cell = (tag: 'th' | 'td', html: string, i: number): string =>
    `<${tag}${tag === 'th' ? ' scope="col"' : ''}${columns[i]?.kind === 'figure' ? ' class="n"' : ''}>${html}</${tag}>`;
  const head = columns.map((c, i) => cell('th', esc(c.head), i)).join('');
  const body = rows.map((r) => `<tr>${r.map((h, i) => cell('td', h, i)).join('')}</tr>`).join('\n');
  const title = caption === '' ? '' : `<caption>${esc(caption)}</caption>`;
  return `<table>${title}<thead><tr>${head}</tr></thead>\n<tbody>\n${body}\n</tbody></table>`;
}

export function section(title: string, html: string, kind = ''): string {
  if (html === '') return '';
  return `<section${kind === '' ? '' : ` class="${kind}"`}>\n<h2>${esc(title)}</h2>\n${html}\n</section>`;
}

/** Items are markup. */
export function list(items: readonly string[], ordered = false): string {
  if (items.length === 0) return '';
  const tag = ordered ? 'ol' : 'ul';
  return `<${tag}>\n${items.map((i) => `<li>${i}</li>`).join('\n')}\n</${tag}>`;
}

export function para(html: string): string {
  return `<p>${html}</p>`;
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
