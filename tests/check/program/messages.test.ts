/** Messages that say otherwise than the job, and harmless ones beside them. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { leverJob, leverProgram } from '../lever.ts';

function told(message: string): string[] {
  const text = leverProgram().replace('T1 M6', `T1 M6\n(${message})\n(MSG, Touch off)`);
  const { faults } = checkPrograms([{ file: 'lever.ngc', text }], leverJob());
  return faults.filter((f) => f.code === 'message-differs').map((f) => f.found);
}

describe('a message against the job', () => {
  it.each([
    'MSG, Fit cutter 1: end mill 4 mm, stick out 25 mm',
    'MSG, Fit cutter 1: drill 3 mm, stick out 25 mm',
    'MSG, Fit cutter 1: end mill 3 mm, stick out 40 mm',
    'MSG, Fit cutter 1: end mill 0.2 in',
    'MSG, Take both clamps off',
    'MSG, Loosen the clamps',
    'Material O1, 4 mm thick',
    'Lengths in inches.',
  ])('%s: is refused', (m) => expect(told(m)).toHaveLength(1));

  it.each([
    'MSG, Fit cutter 1: end mill 3 mm, stick out 25 mm',
    'MSG, Fit cutter 1: end mill 0.1181 in, stick out 0.9843 in',
    'MSG, Fit cutter 1: my old end mill 3 mm',
    'MSG, Take care of the clamps',
    'MSG, Do not loosen the clamps',
    'MSG, Remove the swarf between the jaws',
    'Material CuZn39Pb3, 4 mm thick',
    'Material from the scrap box, thin',
    'Lengths in millimetres.',
  ])('%s: is let through', (m) => expect(told(m)).toEqual([]));
});
