/** How the part is held, in sentences. */
import { short } from '../../../base/text.ts';
import type { Holding } from '../../../hold/holding.ts';
import type { Job } from '../../../part/part.ts';
import type { ReadHead } from './read-program.ts';
import type { ViewBeside } from './view-data.ts';

export function holdingWords(job: Job | null, holding: Holding | null, head: ReadHead | null): string[] {
  if (holding === null) return headWords(head);
  return [...methodWords(holding), ...clampWords(job), ...holding.reasons.map(sentence)];
}

function methodWords(h: Holding): string[] {
  const words: string[] = [];
  if (h.tabs.length > 0) {
    const t = h.tabs[0]!;
    const heights =
      t.cutHeight > t.height
        ? `${short(t.cutHeight)} mm high, thinned to ${short(t.height)} at the end`
        : `${short(t.height)} mm high`;
    const count = h.tabs.length === 1 ? 'One tab joins' : `${h.tabs.length} tabs join`;
    words.push(`${count} part and frame, ${short(t.width)} mm wide and ${heights}.`);
  }
  if (h.floor !== null) words.push(`A floor of ${short(h.floor)} mm is left under the part.`);
  if (h.screws.length > 0) {
    words.push(
      `Screws${h.screwThread === null ? '' : ` ${h.screwThread}`} through ${holesText(h)} hold the part to the backing plate.`,
    );
  }
  if (h.glue !== null)
    words.push(`Glue holds the plate down, counted at ${short(h.glue.wetted * 100, 0)} % of its area.`);
  for (const s of h.stubs)
    words.push(`A stub ${short(s.width)} mm wide joins part ${s.part + 1} to the frame, as thick as the plate.`);
  if (h.tabs.length > 0) words.push(`The narrowest rail of the frame is ${short(h.rail)} mm.`);
  return words;
}

function clampWords(job: Job | null): string[] {
  const count = job?.clamps.length ?? 0;
  if (job === null || count === 0) return ['No clamps are stated: what holds the plate is not known here.'];
  const jaws = job.clamps.some((c) => c.kind === 'jaws');
  return [jaws ? 'The plate is gripped by jaws.' : `${count} clamp${count === 1 ? ' holds' : 's hold'} the plate.`];
}

function headWords(head: ReadHead | null): string[] {
  if (head?.hold === undefined || head.hold === null) return ['The program does not say how the part is held.'];
  const { by, figure, thread } = head.hold;
  const more = figure !== null ? ` of ${short(figure)} mm` : thread !== null ? ` ${thread}` : '';
  const tabs = head.tabs.length > 0 ? ` It names ${head.tabs.length} tab${head.tabs.length === 1 ? '' : 's'}.` : '';
  return [`The program says that ${by}${more} hold the part.${tabs}`];
}

/** What holds the part besides tabs and floor, with the block after which it does. */
export function besidesOf(h: Holding | null, programs: readonly { readonly text: string }[]): ViewBeside[] {
  if (h === null) return [];
  const out: ViewBeside[] = [];
  if (h.screws.length > 0) {
    const name = `${h.screwThread === null ? 'Screws' : `${h.screwThread} screws`} through ${holesText(h)}`;
    const fitted = fittedAt(programs);
    out.push({ words: `${name} hold it to the backing plate.`, before: `${name} are not fitted yet.`, ...fitted });
  }
  const always = { before: '', program: 0, block: 0 };
  if (h.glue !== null) out.push({ words: 'Glue under its lower face holds it to the backing plate.', ...always });
  const stub = h.stubs[0];
  if (stub) out.push({ words: `A stub ${short(stub.width)} mm wide is left standing to the frame.`, ...always });
  return out;
}

function holesText({ screws }: Holding): string {
  return `hole${screws.length === 1 ? '' : 's'} ${screws.map((i) => i + 1).join(', ')}`;
}

/** The comment at which a program counts its screws as fitted; from the start where none says so. */
function fittedAt(programs: readonly { readonly text: string }[]): {
  readonly program: number;
  readonly block: number;
} {
  for (const [program, { text }] of programs.entries()) {
    const line = text.split('\n').findIndex((l) => l.startsWith('(SCREWS FITTED'));
    if (line >= 0) return { program, block: line + 1 };
  }
  return { program: 0, block: 0 };
}

function sentence(text: string): string {
  const t = text.trim();
  return /[.!?]$/.test(t) ? t : `${t}.`;
}
