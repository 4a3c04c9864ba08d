/** Files given where a job was wanted: told by what they are, not by the first character that is no JSON. */
import { fault, type Problem } from '../base/problem.ts';

const KINDS: readonly { readonly begins: RegExp; readonly found: string; readonly remedy: string }[] = [
  {
    // A DXF file begins with group code 0 and SECTION, or with a comment, group code 999 (DXF reference, group codes).
    begins: /^\s*(0\s*\r?\n\s*SECTION|999\s*\r?\n)/,
    found: 'a drawing in DXF',
    remedy: 'run `tabwright outline FILE -o job.json` for a job to start from',
  },
  {
    begins: /^\s*(<\?xml|<!--|<!DOCTYPE svg|<svg)/i,
    found: 'a drawing in SVG, or other XML',
    remedy: 'run `tabwright outline FILE -o job.json` for a job to start from',
  },
  {
    // A percent frame, or a line of words that no JSON begins with (NISTIR 6556, 3.3).
    begins: /^\s*(%\s*(\r?\n|$)|\(|[GMNTSO]\s*\d)/i,
    found: 'a program in RS-274',
    remedy: 'run `tabwright check FILE`, or `tabwright view FILE`',
  },
];

/** null: the text may be a job. */
export function notAJob(text: string, file: string): Problem | null {
  const kind = KINDS.find((k) => k.begins.test(text.slice(0, 2000)));
  if (kind === undefined) return null;
  return fault('not-a-job', kind.found, 'a job file in JSON', kind.remedy.replaceAll('FILE', file), { file });
}
