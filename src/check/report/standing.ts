/** Which statements of proof still stand beside the faults that were found. */
import type { Finding, Proof } from '../report.ts';
import { contradicts, type FaultCode, leavesAllOpen } from './codes.ts';

export interface Standing {
  readonly proven: readonly Proof[];
  readonly fallen: readonly { readonly what: string; readonly why: string }[];
}

/** A statement falls with a fault that speaks against it by itself, and with any that leaves everything open. */
export function standing(proven: readonly Proof[], faults: readonly Finding<FaultCode>[]): Standing {
  const other = faults.find((f) => leavesAllOpen(f.code));
  const kept: Proof[] = [];
  const fallen: { what: string; why: string }[] = [];
  for (const p of proven) {
    const own = faults.find((f) => contradicts(f.code, p.what));
    if (own) fallen.push({ what: p.what, why: `it has a fault, ${own.code}` });
    else if (other) fallen.push({ what: p.what, why: `the program has a fault that leaves it open, ${other.code}` });
    else kept.push(p);
  }
  return { proven: kept, fallen };
}
