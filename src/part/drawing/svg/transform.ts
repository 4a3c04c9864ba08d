import { tangent } from '../../../base/angles.ts';
import { type Affine, compose, IDENTITY, scaling, translation, turning } from '../curve/affine.ts';
import { quoted } from '../number.ts';
import { type Parsed, parseNumbers } from './values.ts';

/** The six transform functions of SVG 1.1 section 7.6, read strictly: nothing unknown is passed over. */
export function parseTransform(text: string): Parsed<Affine> {
  const call = /\s*([a-zA-Z]+)\s*\(([^()]*)\)\s*,?/y;
  let matrix = IDENTITY;
  let at = 0;
  const end = text.trimEnd().length;
  if (text.trim() === 'none') return { ok: true, value: IDENTITY };
  while (at < end) {
    call.lastIndex = at;
    const match = call.exec(text);
    const step = match === null ? null : stepOf(match[1]!, match[2]!);
    if (step === null)
      return {
        ok: false,
        found: `transform ${quoted(text.slice(at))} is not a list of matrix, translate, scale, rotate, skewX or skewY`,
      };
    matrix = compose(matrix, step);
    at = call.lastIndex;
  }
  return { ok: true, value: matrix };
}

function stepOf(name: string, inner: string): Affine | null {
  const numbers = parseNumbers(inner);
  if (!numbers.ok) return null;
  const v = numbers.value;
  switch (`${name} ${v.length}`) {
    case 'matrix 6':
      return { a: v[0]!, b: v[1]!, c: v[2]!, d: v[3]!, e: v[4]!, f: v[5]! };
    case 'translate 1':
    case 'translate 2':
      return translation(v[0]!, v[1] ?? 0);
    case 'scale 1':
    case 'scale 2':
      return scaling(v[0]!, v[1] ?? v[0]!);
    case 'rotate 1':
    case 'rotate 3':
      return compose(
        translation(v[1] ?? 0, v[2] ?? 0),
        compose(turning(v[0]!), translation(-(v[1] ?? 0), -(v[2] ?? 0))),
      );
    case 'skewX 1':
      return { ...IDENTITY, c: tangent((v[0]! * Math.PI) / 180) };
    case 'skewY 1':
      return { ...IDENTITY, b: tangent((v[0]! * Math.PI) / 180) };
    default:
      return null;
  }
}
