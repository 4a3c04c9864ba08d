/**
 * A number so that reading it gives the same double: the shortest spelling that does, without an exponent (some readers
 * of drawings know none), without -0. Below 1e-20 it is zero: that is no length.
 */
export function exact(value: number): string {
  const text = String(value);
  if (!text.includes('e')) return text === '-0' ? '0' : text;
  if (Math.abs(value) >= 1e21) return BigInt(value).toString();
  const plain = value.toFixed(30).replace(/\.?0+$/, '');
  return plain === '-0' ? '0' : plain;
}
