/** The stated light mill: what a job is taken to have when it says nothing. Each figure says why. */
import type { Mm, MmPerMin, Rpm, Watt } from '../base/units.ts';
import type { Sourced } from './source.ts';

export interface Stated<T> extends Sourced {
  readonly value: T;
  readonly reason: string;
}

const stated = <T>(value: T, reason: string): Stated<T> => ({
  value,
  reason,
  source: 'light home-workshop mills of 200-750 W',
  mark: 'common practice',
});

/** Keys are those of the job file's `machine`. */
export interface DefaultMachine {
  readonly maxSpeed: Stated<Rpm>;
  readonly minSpeed: Stated<Rpm>;
  readonly baseSpeed: Stated<Rpm>;
  readonly power: Stated<Watt>;
  readonly efficiency: Stated<number>;
  readonly travel: Stated<readonly [Mm, Mm, Mm]>;
  readonly rapid: Stated<MmPerMin>;
  readonly maxFeed: Stated<MmPerMin>;
  /** mm/s2 */
  readonly acceleration: Stated<number>;
  readonly backlash: Stated<Mm>;
  readonly runout: Stated<Mm>;
  readonly coolant: Stated<'none' | 'mist' | 'flood'>;
  readonly tapping: Stated<'hand' | 'machine'>;
}

export const DEFAULT_MACHINE: DefaultMachine = {
  maxSpeed: stated(5000, 'belt-driven light mills reach 5000-6000; the lower is within reach of all'),
  minSpeed: stated(100, 'slowest speed at which such drives turn evenly'),
  baseSpeed: stated(2500, 'below half speed the motor gives constant torque, so power falls with speed'),
  power: stated(350, 'middle of the range of light mills, at the motor'),
  efficiency: stated(0.7, 'belt and bearings take 20-30 %; the low end of 0.7-0.8 quoted by catalogues'),
  travel: stated([200, 150, 150], 'small tables; a larger one loses nothing by it'),
  rapid: stated(1500, 'stepper drives lose steps above it'),
  maxFeed: stated(800, 'feed at which small machines still follow their path'),
  acceleration: stated(200, 'a fifth of what stiff machines do; time is then not promised too short'),
  backlash: stated(0.02, 'adjusted slides with ball or lead screws'),
  runout: stated(0.02, 'ordinary collet in an ordinary spindle, at the cutter'),
  coolant: stated('none', 'brush and oil; M7 and M8 are written only for a machine that has them'),
  tapping: stated('hand', 'tapping under power needs a reversing, slow, strong spindle'),
};

/** What lies beneath the stock when the job says nothing. */
export const DEFAULT_UNDER: Stated<{
  readonly kind: 'plate';
  readonly thickness: Mm;
  readonly material: 'EN-AW-6082-T6';
}> = stated(
  { kind: 'plate', thickness: 6, material: 'EN-AW-6082-T6' },
  'flat sacrificial plate: through cuts and drills run into it, and nothing of the table is marked',
);
