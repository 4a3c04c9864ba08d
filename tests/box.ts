/** A rectangle along X and Y as the outline of a job file. */
export function box(x0: number, y0: number, x1: number, y1: number): { vertices: [number, number][] } {
  return {
    vertices: [
      [x0, y0],
      [x1, y0],
      [x1, y1],
      [x0, y1],
    ],
  };
}
