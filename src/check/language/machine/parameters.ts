/** The control's parameter file (report, 3.2.1 and table 2): rows `index value`, ascending, the required ones all there. */

import type { Reporter } from '../report.ts';
import { LAST_PARAMETER } from '../text/cursor.ts';

/** Rows of table 2 for X Y Z; those of rotary axes may be left out where the machine has none. */
const REQUIRED: readonly number[] = [5161, 5162, 5163, 5181, 5182, 5183, 5211, 5212, 5213, 5220].concat(
  Array.from({ length: 9 }, (_, i) => [5221 + 20 * i, 5222 + 20 * i, 5223 + 20 * i]).flat(),
);

export function readParameterFile(text: string, reporter: Reporter): Map<number, number> {
  const out = new Map<number, number>();
  let last = 0;
  const lines = text.split(/\r\n|\r|\n/);
  lines.forEach((line, i) => {
    const row = /^\s*(\d+)\s+([+-]?(?:\d+\.?\d*|\.\d+))\s*$/.exec(line);
    if (row === null) return;
    const index = Number(row[1]);
    if (index <= last) reporter.refuse(38, i + 1, 1, `row ${index} after row ${last}`);
    if (index < 1 || index > LAST_PARAMETER) reporter.refuse(38, i + 1, 1, `there is no parameter ${index}`);
    last = Math.max(last, index);
    out.set(index, Number(row[2]));
  });
  const missing = REQUIRED.find((index) => !out.has(index));
  if (missing !== undefined) reporter.refuse(38, lines.length, 1, `row ${missing} is missing`);
  return out;
}

/** Parameter 5220 must name a coordinate system at the start (report, 3.2.2). */
export function checkSystem(parameters: Float64Array, reporter: Reporter): void {
  const value = parameters[5220]!;
  if (Number.isInteger(value) && value >= 1 && value <= 9) return;
  reporter.refuse(37, 1, 1, `5220 = ${value}`);
  parameters[5220] = 1;
}
