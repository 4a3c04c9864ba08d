/** A machine file on its own, for checking programs without a job. */
import { bad, good, type Outcome } from '../../base/problem.ts';
import { MM_PER_INCH } from '../../base/units.ts';
import { desk, hasFault } from '../desk.ts';
import type { Machine } from '../part.ts';
import { complainAbout } from '../schema/complain.ts';
import { readJsonc } from '../schema/jsonc.ts';
import { machineFileSchema } from '../schema/schema-shop.ts';
import { readMachine } from './machine.ts';

/** The same file that a job's `machine` may name; what it leaves out is taken from the stated light mill. */
export function readMachineFile(text: string, file: string): Outcome<Machine> {
  const located = readJsonc(text, file);
  if (!located.ok) return located;
  const stated = located.value.value;
  const inches = typeof stated === 'object' && stated !== null && (stated as { units?: unknown }).units === 'inch';
  const parsed = machineFileSchema(inches ? MM_PER_INCH : 1).safeParse(stated);
  if (!parsed.success) return bad(...complainAbout(parsed.error.issues, located.value, 'machine'));
  const { $schema: _schema, units: _units, ...figures } = parsed.data;
  const at = desk(inches ? 'inch' : 'mm', located.value);
  const machine = readMachine(figures, [], at);
  return hasFault(at.problems) ? bad(...at.problems) : good(machine, at.problems);
}
