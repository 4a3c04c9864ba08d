/** Modal groups (report, table 4) and the words each code may use. Codes are ten times the G number. */

/** Group of a G code, 0 for the non-modal ones; -1 for a code that does not exist. */
export const G_GROUP: Int8Array = table(1000, [
  [0, [40, 100, 280, 300, 530, 920, 921, 922, 923]],
  [1, [0, 10, 20, 30, 382, 800, 810, 820, 830, 840, 850, 860, 870, 880, 890]],
  [2, [170, 180, 190]],
  [3, [900, 910]],
  [5, [930, 940]],
  [6, [200, 210]],
  [7, [400, 410, 420]],
  [8, [430, 490]],
  [10, [980, 990]],
  [12, [540, 550, 560, 570, 580, 590, 591, 592, 593]],
  [13, [610, 611, 640]],
]);

/** Group of an M code, -1 for a code that does not exist. */
export const M_GROUP: Int8Array = table(100, [
  [4, [0, 1, 2, 30, 60]],
  [6, [6]],
  [7, [3, 4, 5]],
  [8, [7, 8, 9]],
  [9, [48, 49]],
]);

function table(size: number, groups: readonly (readonly [number, readonly number[]])[]): Int8Array {
  const out = new Int8Array(size).fill(-1);
  for (const [group, codes] of groups) for (const code of codes) out[code] = group;
  return out;
}

/** Group 0 codes that take the axis words of their line (report, 3.4). */
export function takesAxes(code: number): boolean {
  return code === 100 || code === 280 || code === 300 || code === 920;
}

export function isCycle(motion: number): boolean {
  return motion >= 810 && motion <= 890;
}

/** G82, G86, G88, G89 dwell at the bottom. */
export function cycleDwells(motion: number): boolean {
  return motion === 820 || motion === 860 || motion === 880 || motion === 890;
}
