/**
 * A number so that reading it gives the same double: the shortest spelling that does, without an exponent (some readers
 * of drawings know none), without -0.
 */
export function exact(value: number): string {
  const text = String(value);
  const match = /^(-?)(\d)(?:\.(\d+))?e([+-]\d+)$/.exec(text);
  if (match === null) return text === '-0' ? '0' : text;
  const digits = match[2]! + (match[3] ?? '');
  // Digits before the point.
  const whole = Number(match[4]) + 1;
  const plain = whole <= 0 ? `0.${'0'.repeat(-whole)}${digits}` : digits.padEnd(whole, '0');
  return match[1]! + plain;
}
