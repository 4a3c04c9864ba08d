/** Which statements of proof still stand beside the faults that were found. */
import type { Finding, Proof } from '../report.ts';

/** Codes of the faults that speak against each statement. */
const AGAINST: Readonly<Record<string, RegExp>> = {
  gouge: /gouge|outline|compensation/,
  rapids: /rapid/,
  'edge reached': /uncut|footprint/,
  'hole places': /hole|ream|tap-/,
  tabs: /^tab/,
  clamps: /clamp|screw-head|flute|below/,
  'faces and floors': /face|floor|depth|below|field/,
  'still held': /held|loose|free|^tab-|screw|hold/,
  feeds: /feed-too|speed-too/,
  loads: /feed|power|breaks|plunge/,
  'strength of what holds': /weak|^tab|stub|held|loose|screw|feed|power/,
  'glue kept cool': /feed|power/,
};

export interface Standing {
  readonly proven: readonly Proof[];
  readonly fallen: readonly { readonly what: string; readonly why: string }[];
}

/**
 * A statement falls with a fault of its own kind. A fault of language, state or head leaves nothing standing: where the text cannot
 * be trusted, or was not read to its end, no geometry of it is proved.
 */
export function standing(proven: readonly Proof[], faults: readonly Finding[]): Standing {
  const other = faults.find((f) => !Object.values(AGAINST).some((codes) => codes.test(f.code)));
  const kept: Proof[] = [];
  const fallen: { what: string; why: string }[] = [];
  for (const p of proven) {
    const own = faults.find((f) => AGAINST[p.what]?.test(f.code));
    if (own) fallen.push({ what: p.what, why: `it has a fault, ${own.code}` });
    else if (other) fallen.push({ what: p.what, why: `the program has a fault that leaves it open, ${other.code}` });
    else kept.push(p);
  }
  return { proven: kept, fallen };
}
