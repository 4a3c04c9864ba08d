/** How the part is held, in sentences, and the limits its curves are marked with. */
import { short } from '../../base/text.ts';
import type { Holding } from '../../hold/holding.ts';
import type { Job } from '../../part/part.ts';
import type { ReadHead } from './read-program.ts';
import type { ViewLimits } from './view-data.ts';

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
    const holes = h.screws.map((i) => i + 1).join(', ');
    words.push(
      `Screws${h.screwThread === null ? '' : ` ${h.screwThread}`} through hole ${holes} hold the part to the backing plate.`,
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

/** Wanted margins and movement: design section 5, Holding, Results. */
export function limitsOf(job: Job | null, holding: Holding | null): ViewLimits {
  const movement = [
    { value: 0.02, label: 'limit when finishing' },
    { value: 0.05, label: 'limit when roughing' },
  ];
  if (holding?.by === 'glue') return { margin: [{ value: 1, label: 'wanted of glue' }], movement };
  if (holding?.by === 'screws') return { margin: [{ value: 2, label: 'wanted of screws' }], movement };
  if (job?.material === 'EN-GJL-250') return { margin: [{ value: 4, label: 'wanted of cast iron' }], movement };
  return {
    margin: [
      { value: 2, label: 'wanted when finishing' },
      { value: 3, label: 'wanted when roughing' },
    ],
    movement,
  };
}

function sentence(text: string): string {
  const t = text.trim();
  return /[.!?]$/.test(t) ? t : `${t}.`;
}
