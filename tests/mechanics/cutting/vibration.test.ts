/** [F] textbook form named; [D] = derived check. */
import { describe, expect, it } from 'vitest';
import { DAMPING, magnification, toothPassing, worstHarmonic } from '../../../src/mechanics/cutting/vibration.ts';

describe('vibration', () => {
  it('[F form] Den Hartog: 1 at rest, 1/(2 zeta) at resonance, 1/(r^2 - 1) far above', () => {
    expect(magnification(0, 100)).toBe(1);
    expect(magnification(100, 100)).toBeCloseTo(1 / (2 * DAMPING), 9);
    expect(magnification(300, 100)).toBeCloseTo(1 / 8, 4);
  });

  it('[D] 3000 rev/min with two teeth passes 100 times a second; the third harmonic meets a mode at 300 Hz', () => {
    const f = toothPassing(3000, 2, 4);
    expect(f).toEqual([100, 200, 300, 400]);
    const worst = worstHarmonic(f, 300);
    expect(worst.harmonic).toBe(3);
    expect(worst.magnification).toBeCloseTo(50 / 3, 9);
  });
});
