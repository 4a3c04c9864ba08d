/** A machine or cutter file named by a job: read, checked by its own schema, in its own units. */
import type { z } from 'zod';
import { MM_PER_INCH } from '../../base/units.ts';
import { type Desk, deskFor, type UnitName } from '../desk.ts';
import { namedText, type ReadFile } from '../drawings.ts';
import { complainAbout } from '../schema/complain.ts';
import { type KeyPath, readJsonc } from '../schema/jsonc.ts';

interface OtherFile<T> {
  readonly raw: T;
  /** Tells places in that file, in its units. */
  readonly desk: Desk;
}

/** undefined: a fault has been told. */
export function otherFile<S extends z.ZodType>(
  name: string,
  path: KeyPath,
  what: 'machine' | 'drawer',
  schema: (scale: number) => S,
  { desk, read }: { readonly desk: Desk; readonly read: ReadFile },
): OtherFile<z.output<S>> | undefined {
  const text = namedText(read, name);
  if (!text.ok) {
    for (const p of text.problems)
      desk.fault({ code: p.code, at: path, found: p.found, wanted: p.wanted, remedy: p.remedy });
    return undefined;
  }
  const located = readJsonc(text.value, name);
  if (!located.ok) {
    desk.problems.push(...located.problems);
    return undefined;
  }
  const units = statedUnits(located.value.value);
  if (units === undefined) desk.assume(`${name} does not state its units: millimetres.`);
  const parsed = schema(units === 'inch' ? MM_PER_INCH : 1).safeParse(located.value.value);
  if (!parsed.success) {
    desk.problems.push(...complainAbout(parsed.error.issues, located.value, what));
    return undefined;
  }
  return { raw: parsed.data, desk: deskFor(desk, units ?? 'mm', located.value) };
}

function statedUnits(value: unknown): UnitName | undefined {
  const units = typeof value === 'object' && value !== null ? (value as { units?: unknown }).units : undefined;
  return units === 'inch' || units === 'mm' ? units : undefined;
}
