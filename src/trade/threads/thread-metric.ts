/** ISO metric threads M1-M12, coarse and fine. */
import type { Mm } from '../../base/units.ts';
import type { SourceMark } from '../source.ts';
import { type LargestMinor, micron, type TapDrill, type Thread } from './thread-rows.ts';

const PITCH_SOURCE = 'ISO 261/262 pitch; D2 = D - 0.649519 P, D1 = D - 1.082532 P (ISO 724)';

/** [name, D, P, series, tap drill, largest D1, class]. null: the maximum is not in the tables at hand. */
const ROWS: readonly (readonly [string, Mm, Mm, 'coarse' | 'fine', Mm, Mm | null, string])[] = [
  ['M1', 1, 0.25, 'coarse', 0.75, 0.785, '5H'],
  ['M1.2', 1.2, 0.25, 'coarse', 0.95, 0.985, '5H'],
  ['M1.4', 1.4, 0.3, 'coarse', 1.1, 1.142, '5H'],
  ['M1.6', 1.6, 0.35, 'coarse', 1.25, 1.321, '6H'],
  ['M1.8', 1.8, 0.35, 'coarse', 1.45, 1.521, '6H'],
  ['M2', 2, 0.4, 'coarse', 1.6, 1.679, '6H'],
  ['M2.2', 2.2, 0.45, 'coarse', 1.75, 1.838, '6H'],
  ['M2.5', 2.5, 0.45, 'coarse', 2.05, 2.138, '6H'],
  ['M3', 3, 0.5, 'coarse', 2.5, 2.599, '6H'],
  ['M3.5', 3.5, 0.6, 'coarse', 2.9, 3.01, '6H'],
  ['M4', 4, 0.7, 'coarse', 3.3, 3.422, '6H'],
  ['M5', 5, 0.8, 'coarse', 4.2, 4.334, '6H'],
  ['M6', 6, 1, 'coarse', 5, 5.153, '6H'],
  ['M7', 7, 1, 'coarse', 6, 6.153, '6H'],
  ['M8', 8, 1.25, 'coarse', 6.8, 6.912, '6H'],
  ['M10', 10, 1.5, 'coarse', 8.5, 8.676, '6H'],
  ['M12', 12, 1.75, 'coarse', 10.2, 10.441, '6H'],
  ['M1x0.2', 1, 0.2, 'fine', 0.8, null, '4H/5H'],
  ['M1.2x0.2', 1.2, 0.2, 'fine', 1, null, '4H/5H'],
  ['M1.6x0.2', 1.6, 0.2, 'fine', 1.4, null, '4H/5H'],
  ['M2x0.25', 2, 0.25, 'fine', 1.75, null, '5H'],
  ['M2.5x0.35', 2.5, 0.35, 'fine', 2.15, 2.221, '6H'],
  ['M3x0.35', 3, 0.35, 'fine', 2.65, 2.721, '6H'],
  ['M4x0.5', 4, 0.5, 'fine', 3.5, 3.599, '6H'],
  ['M5x0.5', 5, 0.5, 'fine', 4.5, 4.599, '6H'],
  ['M6x0.75', 6, 0.75, 'fine', 5.2, 5.378, '6H'],
  ['M6x0.5', 6, 0.5, 'fine', 5.5, 5.599, '6H'],
  ['M8x1', 8, 1, 'fine', 7, 7.153, '6H'],
  ['M8x0.75', 8, 0.75, 'fine', 7.2, 7.378, '6H'],
  ['M10x1.25', 10, 1.25, 'fine', 8.8, 8.912, '6H'],
  ['M10x1', 10, 1, 'fine', 9, 9.153, '6H'],
  ['M10x0.75', 10, 0.75, 'fine', 9.2, 9.378, '6H'],
  ['M12x1.5', 12, 1.5, 'fine', 10.5, 10.676, '6H'],
  ['M12x1.25', 12, 1.25, 'fine', 10.8, 10.912, '6H'],
  ['M12x1', 12, 1, 'fine', 11, 11.153, '6H'],
];

/** Where the tap drill was read; ISO 2306 covers M2-M8 coarse, the rest were read in other charts or remembered. */
function drillSource(name: string): readonly [string, SourceMark] {
  if (/^M(2|2\.5|3|4|5|6|8)$/.test(name)) return ['ISO 2306:1972 Table 1', 'published'];
  if (/^M(1|1\.2|1\.4|3\.5|7|10|12)$/.test(name)) return ['anzugsmoment.de tap drill chart', 'published'];
  if (/^M(1\.6|1\.8|2\.2)$/.test(name)) return ['cq_warehouse tap drill table', 'published'];
  if (/^M(1\.2x0\.2|1\.6x0\.2|2x0\.25|2\.5x0\.35|3x0\.35)$/.test(name)) return ['D - P', 'from memory'];
  if (/^M[456]x0\.5$/.test(name)) return ['highfields-arc.co.uk tap drill page', 'published'];
  if (name === 'M1x0.2') return ['engineersedge.com tap drill chart', 'published'];
  return ['IBE trainee handbook, tap drills', 'published'];
}

/** 5H minor-diameter tolerance for the two finest pitches, mm. The tolerance depends on the pitch alone. */
const FINEST_5H: Readonly<Record<string, Mm>> = { '0.2': 0.048, '0.25': 0.056 };

function largest(minor: Mm, pitch: Mm, printed: Mm | null, toleranceClass: string): LargestMinor {
  if (printed !== null) return { diameter: printed, class: toleranceClass, source: 'ISO 965-1', mark: 'from memory' };
  const diameter = micron(minor + FINEST_5H[String(pitch)]!);
  return { diameter, class: '5H', source: 'ISO 965-1 tolerance TD1 5H added to D1', mark: 'from memory' };
}

export const METRIC_THREADS: readonly Thread[] = ROWS.map(([name, major, pitch, series, drill, d1max, grade]) => {
  const [source, mark] = drillSource(name);
  const tapDrill: TapDrill = { diameter: drill, name: String(drill), source, mark };
  const minor = micron(major - 1.082532 * pitch);
  return {
    name,
    family: series === 'coarse' ? 'metric coarse' : 'metric fine',
    angle: 60,
    pitch,
    major,
    pitchDiameter: micron(major - 0.649519 * pitch),
    minor,
    largestMinor: largest(minor, pitch, d1max, grade),
    tapDrill,
    source: PITCH_SOURCE,
    mark: 'published',
  };
});
