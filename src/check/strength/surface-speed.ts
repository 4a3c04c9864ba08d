/**
 * How fast the edge runs: no faster than the tables' speed for cutter and material, times what the most published is above it. A cutter that runs at
 * more burns, whatever its feed. A machine that cannot turn slower is excused: nothing in the program could mend it.
 */
import type { Job } from '../../part/part.ts';
import type { Material } from '../../trade/materials/materials.ts';
import { ROUNDING } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { type Stroke, spotOf } from '../strokes/stroke.ts';

/** Bronze is given 46 to 91 m/min for HSS, mild steel 27 to 37, by one published table and the next (Newson table A; Arizona MMT, upper limits). */
const DRILL_SPREAD = 2;
/** Carbide drills run 1.5 to 3 times as fast as HSS (common practice). */
const CARBIDE_DRILL = 3;
/** End mills of HSS, most published over the tables' start: aluminium 244 to 75 (Newson), brass 180 to 60 and mild steel 37 to 25 (Arizona MMT). */
const HSS_MILL_SPREAD = { N: 3.3, others: 2 };
/** Carbide: free-cutting steel 300 to 80 (Iscar 2022, p. 92), aluminium 700 to 200 (Tungaloy p. 131): coated tools on stiff machines. */
const CARBIDE_MILL_SPREAD = 4;
/** The slowest that a machine turns is written rounded. */
const SLOWEST = 1.01;

export function checkSurfaceSpeeds(strokes: Iterable<Stroke>, m: Material, job: Job, out: Findings): void {
  const told = new Set<string>();
  for (const s of strokes) {
    if (s.rapid || s.low >= job.stock.max[2] - ROUNDING || s.speed <= job.machine.minSpeed * SLOWEST) continue;
    const most = mostFor(s, m);
    const runs = (Math.PI * s.tool.cutter.diameter * s.speed) / 1000;
    const key = `${s.program} ${s.tool.number} ${s.speed}`;
    if (most === null || runs <= most || told.has(key)) continue;
    told.add(key);
    const found = `the edge of ${s.tool.cutter.kind} ${s.tool.number} runs at ${runs.toFixed(0)} m/min at S${s.speed}`;
    const wanted = `at most ${most.toFixed(0)} m/min for ${s.tool.cutter.material} in ${job.material}`;
    out.fault({ code: 'speed-too-high', at: spotOf(s), found, wanted, remedy: 'lower S, and F with it' });
  }
}

/** m/min; null: points and cones, whose edge cuts at less than their diameter. */
function mostFor(s: Stroke, m: Material): number | null {
  const { kind, material } = s.tool.cutter;
  switch (kind) {
    case 'drill':
      return m.drillSpeed.value * DRILL_SPREAD * (material === 'carbide' ? CARBIDE_DRILL : 1);
    case 'reamer':
      return m.reamSpeed[material].value * DRILL_SPREAD;
    case 'end mill':
    case 'slot drill':
      return m.milling[material].speed * (material === 'carbide' ? CARBIDE_MILL_SPREAD : hssSpread(m));
    default:
      return null;
  }
}

function hssSpread(m: Material): number {
  return m.group === 'N' ? HSS_MILL_SPREAD.N : HSS_MILL_SPREAD.others;
}
